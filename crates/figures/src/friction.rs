//! Inclined planes and rolling.
//!
//! In: weights in N, angles in radians, radii in mm. Out: forces in N.
//! Always true: a friction angle is the arc tangent of its coefficient; slopes are positive uphill.
//!
//! Source: inclined-plane and friction-angle formulas of engineering handbooks, elementary.

use turnleaf_geom::trig;

/// Level push that moves a weight up a slope: P = W·tan(α + φ). Down it, α negative. N.
pub fn push_level(weight: f64, slope: f64, friction_angle: f64) -> f64 {
    weight * trig::tan(slope + friction_angle)
}

/// Push along the slope: P = W·(sin α + μ·cos α). N.
pub fn push_along(weight: f64, slope: f64, friction: f64) -> f64 {
    let (s, c) = trig::sin_cos(slope);
    weight * (s + friction * c)
}

/// Pull at an angle β to the slope: P = W·sin(α + φ)/cos(β − φ). N.
pub fn pull_at(weight: f64, slope: f64, friction_angle: f64, pull: f64) -> f64 {
    weight * trig::sin(slope + friction_angle) / trig::cos(pull - friction_angle)
}

/// Friction angle of a wheel, radians: atan((f + μ·r)/R).
///
/// f lever arm of rolling resistance, μ friction of the axle, r its radius, R the wheel's radius, mm. The
/// lever arm is a length and not the coefficient of rolling resistance that other tables give.
pub fn rolling_angle(lever_arm: f64, axle_friction: f64, axle: f64, wheel: f64) -> f64 {
    trig::atan((lever_arm + axle_friction * axle) / wheel)
}

/// Friction of a slide in its guide, N: μ times the sum of the contact forces. `weight_contact` is the
/// contact from weight alone; each newton of push adds `contact_per_push` newtons of contact. The push that
/// overcomes its own friction is μ·S/(1 − μ·k). None when μ·k reaches 1: the slide jams however hard it is
/// pushed.
pub fn slide_push(friction: f64, weight_contact: f64, contact_per_push: f64) -> Option<f64> {
    let rest = 1.0 - friction * contact_per_push;
    (rest > 0.0).then(|| friction * weight_contact / rest)
}
