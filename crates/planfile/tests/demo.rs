//! The plan files of demo/ open without an error and come back unchanged in meaning.
//! (Their tables are invented; only that they read is checked here.)

use turnleaf_planfile::{Plan, PlanUnit};
use turnleaf_units::Length;

const READING_ROOM: &[u8] = include_bytes!("../../../demo/reading-room.json");
const MAP_ROOM: &[u8] = include_bytes!("../../../demo/map-room.json");
const WINDOW_TABLE: &[u8] = include_bytes!("../../../demo/window-table.json");

fn open(bytes: &[u8]) -> Plan {
    let (plan, remarks) = Plan::parse(bytes).expect("a demo plan opens");
    assert_eq!(remarks, [], "a demo plan needs no remark");
    assert_eq!(plan.to_json().as_bytes(), bytes, "a demo plan is written as the program writes it");
    plan
}

#[test]
fn reading_room() {
    let plan = open(READING_ROOM);
    assert_eq!(plan.count("sectors"), Some(6));
    assert_eq!(plan.length("closed_diameter"), Some(Length::whole_mm(1200)));
    assert_eq!(plan.length("open_diameter"), Some(Length::whole_mm(1650)));
    assert_eq!(plan.length("stock_thickness"), Some(Length::whole_mm(19)));
    assert_eq!(plan.length("hidden_margin"), Some(Length::whole_mm(3)));
    assert_eq!(plan.length("tongue_depth"), Some(Length::whole_mm(6)));
    assert_eq!(plan.length("tongue_clearance"), Some(Length::hundredths_mm(150)));
    assert_eq!(plan.angle("leaf_tip_half_angle").map(|a| a.degrees()), Some(45.0));
}

#[test]
fn map_room() {
    let plan = open(MAP_ROOM);
    assert_eq!(plan.options().unit, PlanUnit::Inch);
    assert_eq!(plan.count("sectors"), Some(8));
    assert_eq!(plan.length("closed_diameter"), Some(Length::inch_256ths(48 * 256)));
    assert_eq!(plan.length("open_diameter"), Some(Length::inch_256ths(64 * 256)));
    assert_eq!(plan.length("stock_thickness"), Some(Length::inch_256ths(192)));
}

#[test]
fn window_table() {
    let plan = open(WINDOW_TABLE);
    assert_eq!(plan.count("sectors"), Some(5));
    assert_eq!(plan.length("closed_diameter"), Some(Length::whole_mm(800)));
    assert_eq!(plan.length("open_diameter"), Some(Length::whole_mm(1060)));
    assert_eq!(plan.length("stock_thickness"), Some(Length::whole_mm(15)));
}
