//! The table of sizes: one row drives file, form, help and ranges.
//!
//! In: nothing. Out: [`FIELDS`].
//! Always true: a row's position is the number inside [`Origin::Size`] and never changes within a file version;
//! every default reads as its kind and lies inside its range (tested).

use turnleaf_diag::Origin;
use turnleaf_units::{Angle, Force, Length};

/// What kind of value a field holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A length.
    Length,
    /// An angle.
    Angle,
    /// A whole number.
    Count,
    /// A force.
    Force,
}

/// A value of a field.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd)]
pub enum Value {
    /// A length.
    Length(Length),
    /// An angle.
    Angle(Angle),
    /// A whole number.
    Count(u32),
    /// A force.
    Force(Force),
}

/// Fields shown together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Closed and open size, sectors, height.
    Table,
    /// Thicknesses of sheet stock.
    Stock,
    /// Plays, gaps, tongues, margins.
    Fits,
    /// Arms, slides and the lift.
    Drive,
    /// Solved numbers that the maker may fix instead.
    Overrides,
    /// What the table must carry.
    Loads,
}

impl Group {
    /// All groups in the order of a form.
    pub const ALL: [Group; 6] =
        [Group::Table, Group::Stock, Group::Fits, Group::Drive, Group::Overrides, Group::Loads];
    /// Heading in a form.
    pub const fn label(self) -> &'static str {
        match self {
            Group::Table => "The table",
            Group::Stock => "Stock",
            Group::Fits => "Fits and gaps",
            Group::Drive => "Drive and lift",
            Group::Overrides => "Fixed by hand",
            Group::Loads => "Loads",
        }
    }
}

/// What happens when a field is absent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Absent {
    /// The file cannot be used.
    Refused,
    /// The default is used, and said.
    Usual,
    /// The number is worked out.
    Worked,
}

/// One size of a plan.
#[derive(Clone, Copy, Debug)]
pub struct FieldSpec {
    /// Key in the file, and everywhere else.
    pub id: &'static str,
    /// Name in a form.
    pub label: &'static str,
    /// One plain sentence saying what it does.
    pub help: &'static str,
    /// What it holds.
    pub kind: Kind,
    /// Default in a metric plan; an example when the field is [`FieldSpec::optional`].
    pub metric: &'static str,
    /// Default in an inch plan; an example when the field is [`FieldSpec::optional`].
    pub inch: &'static str,
    /// Smallest value.
    pub min: Value,
    /// Largest value.
    pub max: Value,
    /// What happens when it is absent.
    pub absent: Absent,
    /// Where it is shown.
    pub group: Group,
}

impl FieldSpec {
    /// Whether it may be left out, and is then worked out.
    pub const fn optional(&self) -> bool {
        matches!(self.absent, Absent::Worked)
    }
}

/// Position of a field in [`FIELDS`].
pub fn field_index(id: &str) -> Option<usize> {
    FIELDS.iter().position(|f| f.id == id)
}

/// The field with this id.
pub fn field(id: &str) -> Option<&'static FieldSpec> {
    FIELDS.iter().find(|f| f.id == id)
}

/// The field an origin names, if it names one.
pub fn field_of(origin: Origin) -> Option<&'static FieldSpec> {
    match origin {
        Origin::Size(i) => FIELDS.get(usize::from(i)),
        Origin::Solved(_) => None,
    }
}

/// The origin of a field.
pub fn origin(id: &str) -> Option<Origin> {
    field_index(id).and_then(|i| u16::try_from(i).ok()).map(Origin::Size)
}

/// Millimetres, low and high.
const fn mm(low: i32, high: i32) -> (Value, Value) {
    (Value::Length(Length::whole_mm(low)), Value::Length(Length::whole_mm(high)))
}
const fn deg(low: i32, high: i32) -> (Value, Value) {
    (Value::Angle(Angle::whole_degrees(low)), Value::Angle(Angle::whole_degrees(high)))
}

const fn row(
    id: &'static str,
    (group, absent, kind): (Group, Absent, Kind),
    (metric, inch): (&'static str, &'static str),
    (min, max): (Value, Value),
    label: &'static str,
    help: &'static str,
) -> FieldSpec {
    FieldSpec { id, label, help, kind, metric, inch, min, max, absent, group }
}

use Absent::{Refused, Usual, Worked};
use Group::{Drive, Fits, Loads, Overrides, Stock, Table};

/// All sizes of a plan. Ranges are the widest that the geometry is meant for, not advice;
/// defaults are common practice, no source.
pub const FIELDS: &[FieldSpec] = &[
    row(
        "closed_diameter",
        (Table, Refused, Kind::Length),
        ("1200 mm", "48 in"),
        mm(500, 2500),
        "Closed diameter",
        "How wide the top is when it is closed.",
    ),
    row(
        "open_diameter",
        (Table, Worked, Kind::Length),
        ("1650 mm", "64 in"),
        mm(520, 4000),
        "Open diameter",
        "How wide the top is when it is open, across the middles of two opposite panels; give this or the travel.",
    ),
    row(
        "travel",
        (Table, Worked, Kind::Length),
        ("225 mm", "8 in"),
        mm(10, 1000),
        "Travel",
        "How far each panel moves outward from closed to open; give this or the open diameter.",
    ),
    row(
        "sectors",
        (Table, Refused, Kind::Count),
        ("6", "6"),
        (Value::Count(4), Value::Count(12)),
        "Sectors",
        "How many equal panels the closed top is divided into.",
    ),
    row(
        "height",
        (Table, Usual, Kind::Length),
        ("740 mm", "29 in"),
        mm(300, 1200),
        "Height",
        "From the floor to the upper face of the top.",
    ),
    row(
        "stock_thickness",
        (Stock, Refused, Kind::Length),
        ("19 mm", "3/4 in"),
        mm(6, 40),
        "Top thickness",
        "Thickness of the stock that panels, leaves and star are cut from.",
    ),
    row(
        "plate_thickness",
        (Stock, Usual, Kind::Length),
        ("18 mm", "3/4 in"),
        mm(6, 40),
        "Plate thickness",
        "Thickness of the turning plate and of the rising plate.",
    ),
    row(
        "ply_thickness",
        (Stock, Usual, Kind::Length),
        ("12 mm", "1/2 in"),
        mm(4, 40),
        "Base ply thickness",
        "Thickness of each of the two sheets that are glued into the base plate.",
    ),
    row(
        "slide_thickness",
        (Stock, Usual, Kind::Length),
        ("15 mm", "5/8 in"),
        mm(4, 40),
        "Slide thickness",
        "Thickness of the slides that carry panels and leaves.",
    ),
    row(
        "arm_thickness",
        (Stock, Usual, Kind::Length),
        ("8 mm", "5/16 in"),
        mm(3, 40),
        "Arm thickness",
        "Thickness of the stock that the arms are cut from.",
    ),
    row(
        "play",
        (Fits, Usual, Kind::Length),
        ("1 mm", "1/32 in"),
        mm(0, 5),
        "Play",
        "Air between two surfaces that lie one above the other and slide past each other.",
    ),
    row(
        "fitting_gap",
        (Fits, Usual, Kind::Length),
        ("0.6 mm", "1/32 in"),
        mm(0, 4),
        "Fitting gap",
        "Gap left between neighbouring edges when the top is open, so that it closes without binding.",
    ),
    row(
        "hidden_margin",
        (Fits, Usual, Kind::Length),
        ("3 mm", "1/8 in"),
        mm(0, 50),
        "Hidden margin",
        "How far the stored leaves stay inside the edge of the closed top.",
    ),
    row(
        "leaf_tip_half_angle",
        (Fits, Usual, Kind::Angle),
        ("45°", "45°"),
        deg(15, 90),
        "Leaf tip half-angle",
        "Half the angle of a leaf's pointed inner end, which is also half the angle between the star's arms and their notches; 90° makes it blunt.",
    ),
    row(
        "tongue_depth",
        (Fits, Usual, Kind::Length),
        ("6 mm", "1/4 in"),
        mm(0, 20),
        "Tongue depth",
        "How far a tongue reaches into its groove; 0 leaves tongues out.",
    ),
    row(
        "tongue_thickness",
        (Fits, Worked, Kind::Length),
        ("6 mm", "1/4 in"),
        mm(1, 20),
        "Tongue thickness",
        "Thickness of a tongue; left out, it is a third of the top thickness.",
    ),
    row(
        "tongue_clearance",
        (Fits, Usual, Kind::Length),
        ("1.5 mm", "1/16 in"),
        mm(0, 10),
        "Tongue clearance",
        "How far a tongue stays clear of the edge opposite while leaves and star rise.",
    ),
    row(
        "arm_width",
        (Drive, Usual, Kind::Length),
        ("20 mm", "3/4 in"),
        mm(8, 80),
        "Arm width",
        "Width of an arm between its pins.",
    ),
    row(
        "arm_clearance",
        (Drive, Usual, Kind::Length),
        ("4 mm", "5/32 in"),
        (Value::Length(Length::hundredths_mm(50)), Value::Length(Length::whole_mm(30))),
        "Arm clearance",
        "The least gap between neighbouring arms over the whole turn.",
    ),
    row(
        "ramp_sweep",
        (Drive, Usual, Kind::Angle),
        ("24°", "24°"),
        deg(8, 60),
        "Ramp sweep",
        "The part of the turn in which leaves and star rise; a larger sweep makes the ramp flatter and the turn longer.",
    ),
    row(
        "panel_pin_radius",
        (Overrides, Worked, Kind::Length),
        ("150 mm", "6 in"),
        mm(20, 1000),
        "Panel pin radius",
        "Distance of the panel arms' fixed pins from the centre; left out, it is searched for.",
    ),
    row(
        "panel_arm_length",
        (Overrides, Worked, Kind::Length),
        ("300 mm", "12 in"),
        mm(30, 1500),
        "Panel arm length",
        "Length of a panel arm from pin to pin; left out, it is searched for.",
    ),
    row(
        "panel_arm_bend",
        (Overrides, Worked, Kind::Length),
        ("80 mm", "3 in"),
        mm(-500, 500),
        "Panel arm bend",
        "How far the middle of a panel arm stands off the straight line between its pins, away from the centre; left out, it is searched for.",
    ),
    row(
        "leaf_pin_radius",
        (Overrides, Worked, Kind::Length),
        ("150 mm", "6 in"),
        mm(20, 1000),
        "Leaf pin radius",
        "Distance of the leaf arms' fixed pins from the centre; left out, it is searched for.",
    ),
    row(
        "leaf_arm_length",
        (Overrides, Worked, Kind::Length),
        ("300 mm", "12 in"),
        mm(30, 1500),
        "Leaf arm length",
        "Length of a leaf arm from pin to pin; left out, it is searched for.",
    ),
    row(
        "leaf_arm_bend",
        (Overrides, Worked, Kind::Length),
        ("80 mm", "3 in"),
        mm(-500, 500),
        "Leaf arm bend",
        "How far the middle of a leaf arm stands off the straight line between its pins, away from the centre; left out, it is searched for.",
    ),
    row(
        "edge_load",
        (Loads, Usual, Kind::Force),
        ("300 N", "70 lbf"),
        (Value::Force(Force::whole_newtons(0)), Value::Force(Force::whole_newtons(5000))),
        "Edge load",
        "The downward load at the edge of the open top that strength and tipping are checked for; an assumption of the maker.",
    ),
    row(
        "slide_skew",
        (Table, Worked, Kind::Angle),
        ("5°", "5°"),
        deg(0, 45),
        "Slide skew",
        "How far each panel's way is turned from its centre line, counter-clockwise seen from above, less than half a panel's angle; left out, the panels go straight out.",
    ),
];
