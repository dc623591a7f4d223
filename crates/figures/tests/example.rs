//! The whole list on worked tables: complete, finite, sourced, and moving the right way when sizes change.

use std::collections::BTreeSet;
use turnleaf_figures::{Assumptions, Figure, figures, room};
use turnleaf_mechanism::{DriveKind, Opening, Sizes, solve};
use turnleaf_parts::{Assembly, assemble};

fn table(s: &Sizes) -> Assembly {
    assemble(&solve(s).unwrap())
}

fn list(s: &Sizes) -> Vec<Figure> {
    figures(&table(s), &Assumptions::default())
}

fn value(list: &[Figure], id: &str) -> f64 {
    list.iter().find(|f| f.id == id).unwrap_or_else(|| panic!("no figure {id}")).value
}

fn many() -> Vec<Sizes> {
    let e = Sizes::example();
    let mut out = vec![
        e.clone(),
        Sizes { sectors: 8, ..e.clone() },
        Sizes { closed_diameter: 1500.0, opening: Opening::Diameter(2000.0), ..e.clone() },
        Sizes { edge_load: 0.0, ..e.clone() },
    ];
    out.push(Sizes { drive: DriveKind::Cam, ..e });
    out.into_iter().filter(|s| solve(s).is_ok()).collect()
}

#[test]
fn every_figure_is_complete() {
    let tables = many();
    assert!(tables.len() >= 4);
    for s in tables {
        let all = list(&s);
        let ids: BTreeSet<&str> = all.iter().map(|f| f.id.as_str()).collect();
        assert_eq!(ids.len(), all.len(), "identifiers are not reused");
        for f in &all {
            assert!(f.value.is_finite(), "{}", f.id);
            assert!(!f.formula.is_empty() && !f.source.is_empty() && !f.guidance.is_empty(), "{}", f.id);
            assert!(!f.unit.is_empty() && !f.label.is_empty(), "{}", f.id);
            assert!(f.inputs.iter().all(|i| i.value.is_finite() && !i.name.is_empty()), "{}", f.id);
            assert_eq!(f.limit.is_some(), f.margin.is_some(), "{}", f.id);
            if let (Some(l), Some(m)) = (f.limit, f.margin) {
                assert!(l.is_finite() && ((l - f.value).abs() - m.abs()).abs() < 1e-9, "{}", f.id);
            }
            let text = format!("{} {} {}", f.source, f.guidance, f.formula);
            assert!(!text.contains("conform") && !text.contains("certified"), "{}", f.id);
        }
        // Twice the same.
        assert_eq!(all, list(&s));
    }
}

#[test]
fn every_assumption_has_a_source() {
    let all = Assumptions::default().list();
    let ids: BTreeSet<&str> = all.iter().map(|x| x.id).collect();
    assert_eq!(ids.len(), all.len());
    assert!(all.iter().all(|x| x.value.is_finite() && !x.source.is_empty() && !x.label.is_empty()));
}

#[test]
fn a_table_that_tips_is_caught() {
    let good = list(&Sizes::example());
    let holds = |l: &[Figure], id: &str| l.iter().find(|f| f.id == id).and_then(Figure::holds);
    assert_eq!(holds(&good, "tip.open.load"), Some(true));
    let bad = list(&Sizes { edge_load: 1500.0, ..Sizes::example() });
    assert_eq!(holds(&bad, "tip.open.load"), Some(false));
    assert_eq!(holds(&bad, "tip.top.load"), Some(false));
    // Closed, the edge is nearer the feet.
    assert!(value(&good, "tip.closed.load") > value(&good, "tip.open.load"));
}

#[test]
fn knees_and_seats() {
    let low = list(&Sizes::example());
    let high = list(&Sizes { height: 900.0, ..Sizes::example() });
    assert!((value(&high, "knee.closed.height") - value(&low, "knee.closed.height") - 160.0).abs() < 1e-9);
    assert!(value(&high, "knee.closed.depth") > value(&low, "knee.closed.depth"));
    // n = floor(π·D/w): 1,200 mm round seats 7 at 21 in, 4 at 30 in.
    assert_eq!(value(&low, "seats.closed.21in"), (core::f64::consts::PI * 1200.0 / 533.4).floor());
    assert_eq!(value(&low, "seats.closed.30in"), 4.0);
    for w in ["21", "24", "25", "30"] {
        assert!(value(&low, &format!("seats.open.{w}in")) >= value(&low, &format!("seats.closed.{w}in")));
    }
    // The open rim is shorter than the circle round its farthest points and longer than the closed rim.
    let a = table(&Sizes::example());
    let rim = room::rim(&a, true);
    assert!(rim > room::rim(&a, false) && rim < core::f64::consts::PI * 1650.0);
}

#[test]
fn lighter_leaves_turn_easier_and_longer_ramps_too() {
    let e = Sizes::example();
    let (thin, thick) =
        (list(&Sizes { stock_thickness: 16.0, ..e.clone() }), list(&Sizes { stock_thickness: 19.0, ..e }));
    assert!(value(&thin, "lift.weight") < value(&thick, "lift.weight"));
    assert!(value(&thin, "torque.whole") < value(&thick, "torque.whole"));
    assert!(value(&thin, "mass.whole.closed") < value(&thick, "mass.whole.closed"));
}

#[test]
fn masses_add_up() {
    let all = list(&Sizes::example());
    let parts: f64 = all.iter().filter(|f| f.id.starts_with("mass.part.")).map(|f| f.value).sum();
    assert!((parts - value(&all, "mass.whole.closed")).abs() < 1e-9);
    assert!((value(&all, "mass.turning") + value(&all, "mass.fixed") - parts).abs() < 1e-9);
    assert!((value(&all, "lift.weight") - value(&all, "mass.lifted") * 9.80665).abs() < 1e-9);
}

#[test]
fn seasons_move_solid_wood_and_say_so() {
    let all = list(&Sizes::example());
    let leaf = all.iter().find(|f| f.id == "season.solid.leaf-grows").unwrap();
    // 225 mm of red oak from 45 to 65 % of humidity: 225 × 0.00369 × (12.0 − 8.5).
    assert!((leaf.value - 2.92).abs() < 0.05);
    // The plan's own top is plywood, which hardly moves; the solid one only says what it would need.
    assert_eq!(leaf.holds(), None);
    let own = all.iter().find(|f| f.id == "season.leaf-grows").unwrap();
    assert_eq!(own.holds(), Some(true));
    // 225 mm × 0.00015 × (12.0 − 8.5).
    assert!((own.value - 0.118).abs() < 0.003);
    let oak = turnleaf_figures::wood::species("oak-red").unwrap();
    let mut solid = Assumptions::default();
    solid.materials.insert(0, ("top stock".into(), turnleaf_figures::Material::Solid(oak)));
    let all = turnleaf_figures::figures(&table(&Sizes::example()), &solid);
    let own = all.iter().find(|f| f.id == "season.leaf-grows").unwrap();
    assert!((own.value - leaf.value).abs() < 1e-9 && own.holds() == Some(false));
    let table = turnleaf_figures::season::table(&table(&Sizes::example()), &Assumptions::default());
    assert_eq!(table.len(), 9);
    assert!(table.iter().all(|s| s.leaf_grows > 0.0 && s.leaf_shrinks < 0.0 && s.seam_opens > 0.0));
}
