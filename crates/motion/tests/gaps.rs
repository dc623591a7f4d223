//! Pinching gaps and pins in cam slots, against closed forms and against wrong slots.

use turnleaf_geom::trig::{self, deg};
use turnleaf_mechanism::{DriveKind, Sizes, solve};
use turnleaf_motion::pinch::{ENTERS, FINGER};
use turnleaf_motion::{Access, pinch_points, prove};
use turnleaf_parts::{Assembly, FeatureKind, assemble, layers::layers};

fn table(drive: DriveKind) -> Assembly {
    assemble(&solve(&Sizes { drive, ..Sizes::example() }).unwrap())
}

/// The gap between neighbouring panels is 2·travel·sin(π/n) wide (two edges moved apart square to themselves): it
/// is a finger wide where that is 25 mm (ISO 13854, from memory).
#[test]
fn panels_pinch_until_their_gap_is_a_finger_wide() {
    for drive in [DriveKind::Arms, DriveKind::Cam] {
        let a = table(drive);
        let m = &a.mechanism;
        let found = pinch_points(&a);
        let p = found.iter().find(|p| p.a == "panel" && p.b == "panel").unwrap();
        assert_eq!((p.from, p.access, p.opening), (0.0, Access::Above, false));
        assert!(p.narrowest.abs() < 1e-6 && p.widest > 24.0);
        let gap = |turn: f64| 2.0 * m.panel_travel(turn) * trig::sin(m.layout.half_sector);
        // Never too short, and too long by less than a fifth of a degree.
        assert!(gap(p.to) >= FINGER - 1e-9, "{} at {:.2}°", gap(p.to), deg(p.to));
        assert!(gap(p.to - trig::rad(0.2)) < FINGER, "{} at {:.2}°", gap(p.to), deg(p.to));
    }
}

/// Each gap found is one a finger enters and that then closes on it; what fits closely is none.
#[test]
fn gaps_found_are_wider_than_a_finger_enters_and_narrower_than_it_needs() {
    let a = table(DriveKind::Arms);
    let found = pinch_points(&a);
    assert!(found.len() > 3, "{}", found.len());
    for p in &found {
        assert!(p.widest > ENTERS && p.narrowest < FINGER && p.narrowest < p.widest, "{p:?}");
        assert!(p.from <= p.at + 1e-9 && p.at <= p.to + 1e-9, "{p:?}");
        assert!(!["panel-arm", "leaf-arm"].contains(&p.a.as_str()), "arms lie inside the glide ring: {p:?}");
        assert!(!(p.a == "panel-slide" && p.b == "panel-guide"), "{p:?}");
    }
    // The plates come together as the table closes, when the leaves go down.
    let plates = found.iter().find(|p| p.a == "rising-plate" || p.b == "rising-plate").unwrap();
    assert!(!plates.opening);
}

/// Pins keep their play over the whole turn; a slot that is a third of a millimetre off does not pass.
#[test]
fn pins_keep_their_play_in_the_slots() {
    let mut a = table(DriveKind::Cam);
    let play = turnleaf_mechanism::cam::SLOT_PLAY;
    let of = |a: &Assembly, pin: &str| {
        prove(a).pairs.into_iter().find(|r| r.a == pin && r.b == "cam-plate").unwrap()
    };
    for pin in ["panel-slide-pin", "leaf-slide-pin"] {
        let r = of(&a, pin);
        println!("{pin}: {:.4}, at least {:.4}, {} looks", r.distance, r.at_least, r.looks);
        assert!(r.holds && r.distance <= play + 1e-6 && r.distance > 0.8 * play, "{r:?}");
        assert!(r.at_least <= r.distance && r.at_least >= play / 2.0, "{r:?}");
    }
    let plate = a.parts.iter_mut().find(|p| p.id == "cam-plate").unwrap();
    for f in &mut plate.features {
        if f.id == "leaf-slot/2"
            && let FeatureKind::CurvedSlot { way, .. } = &mut f.kind
        {
            for v in way {
                v.p.x += 0.3;
            }
        }
    }
    plate.layers = layers(plate.thickness, &plate.outline, &plate.features);
    assert!(of(&a, "panel-slide-pin").holds);
    assert!(!of(&a, "leaf-slide-pin").holds);
}
