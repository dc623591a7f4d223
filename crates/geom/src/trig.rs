//! Transcendental functions, the same bytes on every platform (libm), and the degree bridge.

/// Sine of an angle in radians.
pub fn sin(x: f64) -> f64 {
    libm::sin(x)
}
/// Cosine of an angle in radians.
pub fn cos(x: f64) -> f64 {
    libm::cos(x)
}
/// Sine and cosine of an angle in radians.
pub fn sin_cos(x: f64) -> (f64, f64) {
    libm::sincos(x)
}
/// Tangent of an angle in radians.
pub fn tan(x: f64) -> f64 {
    libm::tan(x)
}
/// Arc sine in radians; the argument is clamped to [-1, 1] so that rounding never gives NaN.
pub fn asin(x: f64) -> f64 {
    libm::asin(x.clamp(-1.0, 1.0))
}
/// Arc cosine in radians; the argument is clamped to [-1, 1] so that rounding never gives NaN.
pub fn acos(x: f64) -> f64 {
    libm::acos(x.clamp(-1.0, 1.0))
}
/// Arc tangent in radians.
pub fn atan(x: f64) -> f64 {
    libm::atan(x)
}
/// Angle of the vector (x, y) in radians, counter-clockwise from +x, in (-π, π].
pub fn atan2(y: f64, x: f64) -> f64 {
    libm::atan2(y, x)
}
/// Length of the vector (x, y).
pub fn hypot(x: f64, y: f64) -> f64 {
    libm::hypot(x, y)
}
/// x raised to y.
pub fn pow(x: f64, y: f64) -> f64 {
    libm::pow(x, y)
}
/// e raised to x.
pub fn exp(x: f64) -> f64 {
    libm::exp(x)
}
/// Natural logarithm.
pub fn ln(x: f64) -> f64 {
    libm::log(x)
}
/// Degrees to radians.
pub fn rad(degrees: f64) -> f64 {
    degrees * core::f64::consts::PI / 180.0
}
/// Radians to degrees.
pub fn deg(radians: f64) -> f64 {
    radians * 180.0 / core::f64::consts::PI
}
