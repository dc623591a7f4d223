//! Turning the table: by dragging, by time, in words.
//!
//! In: pointer places, seconds, the whole turn. Out: turn angles in degrees from 0 (closed) to the whole turn (open).
//! Always true: every angle given out lies in that range. The top turns clockwise, seen from above, as it opens;
//! on the screen (y down) that is the direction of growing pointer angles. Nothing here touches the browser.

use libm::atan2;

/// How long a whole turn takes when it plays, seconds: slow enough to follow one leaf with the eye.
const PLAY_SECONDS: f64 = 5.0;
/// Steps of a turn that plays without motion.
const STILL_STEPS: f64 = 8.0;
/// How long each of those steps stands, seconds.
const STILL_SECONDS: f64 = 0.9;

/// A drag in progress.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drag {
    /// Where the pointer was last, degrees on the screen.
    last: f64,
    /// The turn that goes with it, before it is held to its range, so that overshoot has to be dragged back.
    turn: f64,
}

/// Where a pointer is round a centre, degrees on the screen; clockwise grows.
fn around(x: f64, y: f64) -> f64 {
    atan2(y, x).to_degrees()
}

impl Drag {
    /// Takes hold at a place measured from the table's centre, with the table at this turn.
    pub fn begin(x: f64, y: f64, turn: f64) -> Drag {
        Drag { last: around(x, y), turn }
    }

    /// Moves the pointer; gives the turn that follows, within the whole turn.
    pub fn to(&mut self, x: f64, y: f64, whole: f64) -> f64 {
        let now = around(x, y);
        // The nearer way round.
        let moved = (now - self.last + 540.0).rem_euclid(360.0) - 180.0;
        self.last = now;
        self.turn += moved;
        // A little overshoot is kept, so that the hand and the table stay together; more would feel stuck.
        self.turn = self.turn.clamp(-15.0, whole + 15.0);
        self.turn.clamp(0.0, whole)
    }
}

/// A turn that plays by itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Play {
    from: f64,
    to: f64,
    whole: f64,
    still: bool,
}

impl Play {
    /// From where the table is towards open, or back to closed when it is (nearly) open.
    /// `still` is for people who asked for less motion: a few standing pictures instead of a movement.
    pub fn begin(turn: f64, whole: f64, still: bool) -> Play {
        let to = if turn >= whole * 0.995 { 0.0 } else { whole };
        Play { from: turn, to, whole, still }
    }

    /// The turn after so many seconds, and whether the play is over.
    pub fn at(&self, seconds: f64) -> (f64, bool) {
        let way = (self.to - self.from).abs();
        if way <= f64::EPSILON || self.whole <= 0.0 {
            return (self.to, true);
        }
        let share = way / self.whole;
        let done = if self.still {
            let steps = (STILL_STEPS * share).ceil().max(1.0);
            ((seconds / STILL_SECONDS).floor() + 1.0).clamp(0.0, steps) / steps
        } else {
            ease((seconds / (PLAY_SECONDS * share)).clamp(0.0, 1.0))
        };
        (self.from + (self.to - self.from) * done, done >= 1.0)
    }
}

/// Starts and stops gently: smooth at both ends, 0 to 1.
fn ease(t: f64) -> f64 {
    t * t * (3.0 - 2.0 * t)
}

/// A turn, held to its range; a number that is none is closed.
pub fn hold(turn: f64, whole: f64) -> f64 {
    if turn.is_finite() { turn.clamp(0.0, whole.max(0.0)) } else { 0.0 }
}

/// Where the lift takes place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lift {
    /// Turn at which leaves and star begin to rise, degrees.
    pub begins: f64,
    /// Turn at which they are up.
    pub ends: f64,
}

/// What the table is doing at a turn, in plain words.
pub fn doing(turn: f64, whole: f64, lift: Option<Lift>) -> &'static str {
    let near = whole * 0.002;
    if turn <= near {
        return "Closed.";
    }
    if turn >= whole - near {
        return "Open: panels, leaves and star lie flush, all tongues home.";
    }
    match lift {
        Some(lift) if turn < lift.begins => "Panels and leaves move out; nothing has risen yet.",
        Some(lift) if turn <= lift.ends => "Leaves and star are rising.",
        Some(_) => "All surfaces are flush; panels and leaves close up on their tongues.",
        None => "Between closed and open.",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dragging_a_quarter_clockwise_turns_a_quarter() {
        let mut drag = Drag::begin(100.0, 0.0, 10.0);
        // On the screen y grows downwards, so clockwise from the right goes down.
        assert!((drag.to(0.0, 100.0, 139.0) - 100.0).abs() < 1e-9);
    }

    #[test]
    fn dragging_across_the_seam_of_the_angles_does_not_jump() {
        let mut drag = Drag::begin(-100.0, 1.0, 50.0);
        let turned = drag.to(-100.0, -1.0, 139.0);
        assert!((turned - 51.146).abs() < 1e-3, "{turned}");
    }

    #[test]
    fn a_drag_never_leaves_the_turn_and_comes_back_without_slack() {
        let mut drag = Drag::begin(100.0, 0.0, 0.0);
        assert_eq!(drag.to(100.0, -5.0, 139.0), 0.0);
        for _ in 0..40 {
            drag.to(70.0, -70.0, 139.0);
            drag.to(0.0, -100.0, 139.0);
        }
        assert!(drag.turn >= -15.0);
    }

    #[test]
    fn play_goes_to_open_then_back_to_closed() {
        let play = Play::begin(0.0, 139.0, false);
        assert_eq!(play.at(0.0), (0.0, false));
        assert_eq!(play.at(5.0), (139.0, true));
        let back = Play::begin(139.0, 139.0, false);
        assert_eq!(back.at(99.0), (0.0, true));
    }

    #[test]
    fn play_never_runs_backwards_on_its_way() {
        let play = Play::begin(20.0, 139.0, false);
        let turns: Vec<f64> = (0..500).map(|i| play.at(f64::from(i) * 0.01).0).collect();
        assert!(turns.windows(2).all(|pair| pair[1] >= pair[0]));
    }

    #[test]
    fn less_motion_means_few_standing_pictures() {
        let play = Play::begin(0.0, 139.0, true);
        let mut turns: Vec<f64> = (0..2000).map(|i| play.at(f64::from(i) * 0.01).0).collect();
        turns.dedup();
        assert_eq!(turns.len(), 8);
        assert_eq!(play.at(20.0), (139.0, true));
    }

    #[test]
    fn nonsense_is_closed() {
        assert_eq!(hold(f64::NAN, 139.0), 0.0);
        assert_eq!(hold(500.0, 139.0), 139.0);
        assert_eq!(hold(5.0, -1.0), 0.0);
    }

    #[test]
    fn the_words_follow_the_turn() {
        let lift = Some(Lift { begins: 102.0, ends: 126.0 });
        let said: Vec<&str> =
            [0.0, 50.0, 110.0, 130.0, 139.0].iter().map(|t| doing(*t, 139.0, lift)).collect();
        assert!(said[0].starts_with("Closed"));
        assert!(said[1].contains("move out"));
        assert!(said[2].contains("rising"));
        assert!(said[3].contains("close up"));
        assert!(said[4].starts_with("Open"));
    }
}
