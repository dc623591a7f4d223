//! What the start page shows and asks: the demos, small pictures, a plan from three answers.
//!
//! In: plans, answers. Out: plain values that cross to another thread.
//! Always true: a picture is drawn from the plan it stands for.

use super::{Diagnostic, Plan, PlanUnit, Table, say_length};
use crate::scene::{Look, Scene};
use serde::{Deserialize, Serialize};

/// The demos: a name for addresses, and the plan file.
pub const DEMOS: [(&str, &str); 3] = [
    ("reading-room", include_str!("../../../demo/reading-room.json")),
    ("map-room", include_str!("../../../demo/map-room.json")),
    ("window-table", include_str!("../../../demo/window-table.json")),
];

/// The plan file of a demo.
pub fn demo(name: &str) -> Option<&'static str> {
    DEMOS.iter().find(|(known, _)| *known == name).map(|(_, text)| *text)
}

/// How fine outlines of small pictures are, mm: a fifth of a pixel on a card.
const COARSE: f64 = 2.0;

/// A shape of a small picture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Spot {
    /// Class words for its look.
    pub class: String,
    /// Path data, mm, y up.
    pub path: String,
    /// Where it lies, for an SVG `transform`.
    pub place: String,
}

/// A small picture of a table from above, closed and open at one scale.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Glimpse {
    /// Pieces of the top when closed, lowest first.
    pub closed: Vec<Spot>,
    /// And when open.
    pub open: Vec<Spot>,
    /// Radius of the closed top, mm.
    pub closed_radius: f64,
    /// Radius of the open top, mm.
    pub open_radius: f64,
}

/// Draws it; none when the sizes give no table.
pub fn glimpse(plan: &Plan) -> Option<Glimpse> {
    let table = Table::new(plan).ok()?;
    let (shut, wide) = (table.places(0.0), table.places(table.turn_degrees()));
    let scene = Scene::new(&table.pieces_at(COARSE), &shut, &wide);
    let spots = |places: &[crate::scene::Movement]| {
        let top = scene.shapes.iter().filter(|shape| shape.look == Look::Top);
        let spot = |shape: &crate::scene::Shape| {
            let place = places.get(shape.index)?.svg();
            Some(Spot { class: shape.class.clone(), path: shape.path.clone(), place })
        };
        top.filter_map(spot).collect()
    };
    Some(Glimpse {
        closed: spots(&shut),
        open: spots(&wide),
        closed_radius: scene.closed_radius,
        open_radius: scene.open_radius,
    })
}

/// Three answers, as typed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Answers {
    /// Diameter closed.
    pub closed: String,
    /// Diameter open.
    pub open: String,
    /// How many sit at it.
    pub seats: String,
    /// Whether numbers without a unit are inches.
    pub inches: bool,
}

impl Answers {
    /// What is offered to begin with.
    pub fn usual(inches: bool) -> Answers {
        let (closed, open) = if inches { ("48 in", "64 in") } else { ("1200 mm", "1650 mm") };
        Answers { closed: closed.into(), open: open.into(), seats: "8".into(), inches }
    }

    /// One of the answers.
    pub fn text(&self, which: &str) -> &str {
        match which {
            "closed" => &self.closed,
            "open" => &self.open,
            _ => &self.seats,
        }
    }

    /// Types one of the answers.
    pub fn set(&mut self, which: &str, text: String) {
        match which {
            "closed" => self.closed = text,
            "open" => self.open = text,
            _ => self.seats = text,
        }
    }

    fn unit(&self) -> PlanUnit {
        if self.inches { PlanUnit::Inch } else { PlanUnit::Mm }
    }

    /// What one of the answers is understood as, or why it cannot be used.
    pub fn understood(&self, which: &str) -> Result<String, Diagnostic> {
        let plan = if self.inches { Plan::default_inch() } else { Plan::default_metric() };
        match which {
            "closed" => plan.understand("closed_diameter", &self.closed).map(|said| said.text),
            "open" => plan.understand("open_diameter", &self.open).map(|said| said.text),
            _ => turnleaf_plan::read_seats(&self.seats).map(|seats| seats.to_string()),
        }
    }
}

/// A plan that was found.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Begun {
    /// The plan file.
    pub plan: String,
    /// What was found, in a sentence.
    pub sentence: String,
}

/// Why none was found, and what would work.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct NoTable {
    /// One or two sentences.
    pub sentence: String,
    /// Sentences with the answers that they mean, the nearest first.
    pub nearest: Vec<(String, Answers)>,
}

/// Finds a plan. May take seconds.
pub fn begin(answers: &Answers) -> Result<Begun, NoTable> {
    let asked = turnleaf_plan::Answers {
        closed: answers.closed.clone(),
        open: answers.open.clone(),
        seats: answers.seats.clone(),
        unit: answers.unit(),
    };
    match turnleaf_plan::begin(&asked) {
        Ok(found) => {
            let sentence = format!(
                "A table of {} sectors was found, and every check over its whole turn holds. Open, each of {} has {} of edge.",
                found.sectors,
                found.seats,
                say_length(&found.plan, found.elbow_room.round()),
            );
            Ok(Begun { plan: found.plan.to_json(), sentence })
        }
        Err(no) => {
            let own = |near: turnleaf_plan::Nearest| {
                let inches = near.answers.unit == PlanUnit::Inch;
                let turnleaf_plan::Answers { closed, open, seats, .. } = near.answers;
                (near.sentence, Answers { closed, open, seats, inches })
            };
            Err(NoTable { sentence: no.sentence, nearest: no.nearest.into_iter().map(own).collect() })
        }
    }
}
