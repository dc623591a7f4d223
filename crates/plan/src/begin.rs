//! A new plan from three answers: how wide closed, how wide open, how many sit at it.
//!
//! In: [`Answers`]. Out: a plan whose table passed every check, or why there is none and what nearest would work.
//! Always true: a plan given back was built from its own typed sizes and proved, and so was every [`Nearest`]; the
//! two diameters stay as they were typed; the number of searches is bounded.

use crate::{Goal, Plan, Wish, fit, sizes};
use turnleaf_diag::Diagnostic;
use turnleaf_geom::trig;
use turnleaf_mechanism::{DriveKind, Sizes, Trouble};
use turnleaf_planfile::{PlanUnit, Texts};
use turnleaf_units::{Denominator, InchPrint, Length, MmStep, PrintUnits};

/// Edge of the open table that one sitter takes up in comfort, mm. Common practice, no source.
pub const ELBOW_ROOM: f64 = 600.0;
/// Edge below which sitters touch, mm. Common practice, no source.
pub const TIGHT: f64 = 500.0;
/// Most who can sit at the widest table there may be: its edge by [`TIGHT`].
const MOST_SEATS: u32 = 24;
/// Steps of halving towards the nearest diameter that works. More: nearer to the edge, slower.
const HALVINGS: usize = 4;
/// Numbers of sectors that are looked at for the nearest table. More: sometimes nearer, slower.
const NEAREST_OF: usize = 2;

/// The answers as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Answers {
    /// Diameter closed.
    pub closed: String,
    /// Diameter open.
    pub open: String,
    /// How many sit at it when it is open.
    pub seats: String,
    /// Unit of numbers without one, and of the plan.
    pub unit: PlanUnit,
}

/// A plan that was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Begun {
    /// The plan.
    pub plan: Plan,
    /// How many sit at it.
    pub seats: u32,
    /// Sectors of the top.
    pub sectors: u32,
    /// Edge of the open table for each sitter, mm.
    pub elbow_room: f64,
}

/// Answers near the ones given that work.
#[derive(Clone, Debug, PartialEq)]
pub struct Nearest {
    /// One plain sentence.
    pub sentence: String,
    /// The answers.
    pub answers: Answers,
}

/// Why no plan was found.
#[derive(Clone, Debug, PartialEq)]
pub struct NoTable {
    /// One or two plain sentences.
    pub sentence: String,
    /// What would work, the nearest first; all were tried.
    pub nearest: Vec<Nearest>,
}

/// Reads how many sit at the table.
pub fn read_seats(text: &str) -> Result<u32, Diagnostic> {
    let wrong = |sentence: String| {
        let hint = format!("Type a number from 2 to {MOST_SEATS}, such as 8.");
        Diagnostic::error("answers.seats", sentence).hint(hint)
    };
    let digits: String = text.trim().chars().take_while(char::is_ascii_digit).collect();
    let rest = text.trim()[digits.len()..].trim().to_lowercase();
    let plain = ["", "people", "persons", "seats", "sitters"].contains(&rest.as_str());
    match digits.parse::<u32>() {
        Ok(seats) if plain && (2..=MOST_SEATS).contains(&seats) => Ok(seats),
        Ok(seats) if plain => Err(wrong(format!("{seats} cannot sit at one of these tables."))),
        _ => Err(wrong("How many sit at it is to be a whole number.".into())),
    }
}

/// Numbers of sectors for so many sitters, the likeliest first: those that share the edge evenly, so that no seam
/// lies before one sitter alone, and of these the ones nearest to the worked example's six.
fn sectors_for(seats: u32) -> Vec<u32> {
    let mut all: Vec<u32> = (4..=12).collect();
    let even = |n: u32| n == seats || seats.is_multiple_of(n) || n.is_multiple_of(seats) || seats == 2 * n;
    all.sort_by_key(|n| (!even(*n), *n != seats && even(*n), n.abs_diff(6), 12 - *n));
    all
}

/// Finds the plan.
pub fn begin(answers: &Answers) -> Result<Begun, NoTable> {
    let no = |sentence: String| NoTable { sentence, nearest: Vec::new() };
    let typed = read(answers).map_err(|d| no(sentence(&d)))?;
    let (closed, open, seats) = (typed.closed, typed.open, typed.seats);
    let say = |mm: f64| shown(mm, answers.unit, Fine::Coarse);
    if open - closed < 20.0 {
        let sentence = "The open table has to be wider than the closed one, by 20 mm at least.";
        let answers = Answers { open: say(round_up(closed * 1.35, answers.unit)), ..answers.clone() };
        return Err(NoTable {
            sentence: sentence.into(),
            nearest: tried(answers, "open").into_iter().collect(),
        });
    }
    let each = core::f64::consts::PI * open / f64::from(seats);
    if each < TIGHT {
        let needs = round_up(f64::from(seats) * ELBOW_ROOM / core::f64::consts::PI, answers.unit);
        let fewer = (core::f64::consts::PI * open / ELBOW_ROOM).floor() as u32;
        let sentence = format!(
            "At {} open, {seats} people have {} of edge each, and below {} elbows touch; {} is comfortable (common practice).",
            say(open),
            say(each),
            say(TIGHT),
            say(ELBOW_ROOM)
        );
        // An opening of three eighths more than the closed width is found for nearly every table.
        let wider = if needs > closed * 1.4 { round_up(needs / 1.375, answers.unit) } else { closed };
        let grown = Answers {
            closed: keep(wider, closed, &answers.closed, say),
            open: say(needs),
            ..answers.clone()
        };
        let fewer = (fewer >= 2).then(|| Answers { seats: fewer.to_string(), ..answers.clone() });
        let nearest = [tried(grown, "open"), fewer.and_then(|answers| tried(answers, "seats"))];
        return Err(NoTable { sentence, nearest: nearest.into_iter().flatten().collect() });
    }
    let mut trouble = None;
    for sectors in sectors_for(seats) {
        match table(answers, &typed, sectors) {
            Ok(plan) => return Ok(Begun { plan, seats, sectors, elbow_room: each }),
            // What the likeliest number of sectors is at odds with is what helps most.
            Err(why) => trouble = trouble.or(why),
        }
    }
    let why = trouble.map_or("every table tried failed a check over its turn".to_string(), |t: Trouble| {
        t.sentence.trim_end_matches('.').to_string()
    });
    let sentence = format!(
        "No table of these diameters was found with any number of sectors from 4 to 12. With the likeliest: {why}."
    );
    Err(NoTable { sentence, nearest: nearest(answers, &typed) })
}

/// The answers, read.
struct Typed {
    closed: f64,
    open: f64,
    seats: u32,
}

fn read(answers: &Answers) -> Result<Typed, Diagnostic> {
    let mut plan = usual(answers.unit);
    plan.set("closed_diameter", &answers.closed)?;
    plan.set("open_diameter", &answers.open)?;
    let mm = |id: &str| plan.length(id).map_or(0.0, |length| length.mm());
    Ok(Typed { closed: mm("closed_diameter"), open: mm("open_diameter"), seats: read_seats(&answers.seats)? })
}

fn sentence(d: &Diagnostic) -> String {
    if d.hint.is_empty() { d.sentence.clone() } else { format!("{} {}", d.sentence, d.hint) }
}

fn usual(unit: PlanUnit) -> Plan {
    match unit {
        PlanUnit::Mm => Plan::default_metric(),
        PlanUnit::Inch => Plan::default_inch(),
    }
}

/// A plan for the answers with so many sectors; the solver's reason when there is none.
fn table(answers: &Answers, typed: &Typed, sectors: u32) -> Result<Plan, Option<Trouble>> {
    let base = sizes(&usual(answers.unit));
    let wish = Wish {
        closed_diameter: typed.closed,
        open_diameter: typed.open,
        sectors: sectors as usize,
        stock_thickness: base.stock_thickness,
        height: base.height,
        drive: DriveKind::Arms,
        goal: Goal::Margin,
    };
    let found = fit(&wish).map_err(|no| no.troubles.into_iter().next())?;
    let fines = match answers.unit {
        PlanUnit::Mm => [Fine::Coarse, Fine::Hundredth],
        PlanUnit::Inch => [Fine::Coarse, Fine::Metric],
    };
    // Marks of the rule first, and the exact millimetres of the search when its room is too small for them.
    let tries = fines.into_iter().flat_map(|fine| [(fine, false), (fine, true)]);
    tries
        .filter_map(|(fine, all)| written(answers, typed, sectors, &found.sizes, fine, all))
        .find(|plan| sound(&sizes(plan)))
        .ok_or(None)
}

/// The sizes that the search settles; with `all`, also those it took from the worked example.
fn written(answers: &Answers, typed: &Typed, sectors: u32, s: &Sizes, fine: Fine, all: bool) -> Option<Plan> {
    let mut plan = usual(answers.unit);
    plan.set("closed_diameter", &answers.closed).ok()?;
    plan.set("open_diameter", &answers.open).ok()?;
    plan.set("sectors", &sectors.to_string()).ok()?;
    let found = [
        ("tongue_depth", s.tongue_depth),
        ("arm_width", s.arm_width),
        ("arm_clearance", s.arm_clearance),
        ("ply_thickness", s.ply_thickness),
        ("tongue_clearance", s.tongue_clearance),
    ];
    let taken = [
        ("play", s.play),
        ("fitting_gap", s.fitting_gap),
        ("hidden_margin", s.hidden_margin),
        ("plate_thickness", s.plate_thickness),
        ("slide_thickness", s.slide_thickness),
        ("arm_thickness", s.arm_thickness),
    ];
    for (id, mm) in found.into_iter().chain(taken.into_iter().filter(|_| all)) {
        plan.set(id, &shown(mm, answers.unit, fine)).ok()?;
    }
    for (id, angle) in [("leaf_tip_half_angle", s.leaf_tip_half_angle), ("ramp_sweep", s.ramp_sweep)] {
        plan.set(id, &turnleaf_mend::metric(trig::deg(angle), "deg")).ok()?;
    }
    let title = format!("Round table for {}", typed.seats);
    plan.set_texts(Texts { title, ..plan.texts().clone() }).ok()?;
    Some(plan)
}

fn sound(sizes: &Sizes) -> bool {
    let Ok(mechanism) = turnleaf_mechanism::solve(sizes) else { return false };
    let assembly = turnleaf_parts::assemble(&mechanism);
    let proof = turnleaf_motion::prove(&assembly);
    turnleaf_motion::checks(&assembly, &proof).iter().all(|check| check.holds)
}

/// How finely a length is written.
#[derive(Clone, Copy, PartialEq)]
enum Fine {
    /// Half a millimetre or so, or 1/32 in.
    Coarse,
    /// A hundredth of a millimetre.
    Hundredth,
    /// Millimetres in an inch plan.
    Metric,
}

/// A length as it may be typed into the plan.
fn shown(mm: f64, unit: PlanUnit, fine: Fine) -> String {
    let inch = InchPrint { denominator: Denominator::ThirtyTwo, feet: false };
    let units = match (unit, fine) {
        (PlanUnit::Inch, Fine::Coarse | Fine::Hundredth) => PrintUnits::Inch(inch),
        _ => PrintUnits::Mm(MmStep::HUNDREDTH),
    };
    // In whole and half millimetres where nothing finer is asked for.
    let mm = if unit == PlanUnit::Mm && fine == Fine::Coarse { (mm * 2.0).round() / 2.0 } else { mm };
    let sign = usual(unit).options().language.decimal_sign();
    Length::from_mm_f64(mm).map_or(String::new(), |length| units.print(length, sign).text())
}

/// Up to whole centimetres or inches.
fn round_up(mm: f64, unit: PlanUnit) -> f64 {
    let step = step(unit);
    (mm / step - 1e-9).ceil() * step
}

fn step(unit: PlanUnit) -> f64 {
    match unit {
        PlanUnit::Mm => 10.0,
        PlanUnit::Inch => 25.4,
    }
}

/// The text as typed when the length did not change.
fn keep(mm: f64, before: f64, typed: &str, say: impl Fn(f64) -> String) -> String {
    if (mm - before).abs() < 1e-9 { typed.to_string() } else { say(mm) }
}

/// Answers that work, tried; `what` names the answer that was changed.
fn tried(answers: Answers, what: &str) -> Option<Nearest> {
    let typed = read(&answers).ok()?;
    if typed.open - typed.closed < 20.0 || core::f64::consts::PI * typed.open / f64::from(typed.seats) < TIGHT
    {
        return None;
    }
    let found =
        sectors_for(typed.seats).into_iter().take(NEAREST_OF).any(|n| table(&answers, &typed, n).is_ok());
    found.then(|| {
        let sentence = match what {
            "seats" => format!("{} people sit at {} in comfort.", answers.seats, answers.open),
            _ => format!("{} closed and {} open works for {}.", answers.closed, answers.open, answers.seats),
        };
        Nearest { sentence, answers }
    })
}

/// Looks for the nearest opening, and the nearest closed table, that work.
fn nearest(answers: &Answers, typed: &Typed) -> Vec<Nearest> {
    let unit = answers.unit;
    let say = |mm: f64| shown(mm, unit, Fine::Coarse);
    let seats_least = TIGHT * f64::from(typed.seats) / core::f64::consts::PI;
    let narrower = |open: f64| Answers { open: say(open), ..answers.clone() };
    let wider = |closed: f64| Answers { closed: say(closed), ..answers.clone() };
    let works = |answers: &Answers| {
        read(answers).is_ok_and(|typed| {
            sectors_for(typed.seats).into_iter().take(NEAREST_OF).any(|n| table(answers, &typed, n).is_ok())
        })
    };
    // From what is asked towards what is easy: an opening of a quarter more than the closed width.
    let easy_open = (typed.closed * 1.25).max(seats_least);
    let easy_closed = typed.open / 1.25;
    let mut out = Vec::new();
    if easy_open < typed.open
        && let Some(open) = halve(typed.open, easy_open, unit, |open| works(&narrower(open)))
    {
        out.extend(tried(narrower(open), "open"));
    }
    if easy_closed > typed.closed
        && let Some(closed) = halve(typed.closed, easy_closed, unit, |closed| works(&wider(closed)))
    {
        out.extend(tried(wider(closed), "closed"));
    }
    out
}

/// Halves between what does not work and what should; the value nearest to the first that works, on whole steps.
fn halve(wrong: f64, right: f64, unit: PlanUnit, works: impl Fn(f64) -> bool) -> Option<f64> {
    let grid = |mm: f64| (mm / step(unit)).round() * step(unit);
    let (mut bad, mut good) = (wrong, grid(right));
    if !works(good) {
        return None;
    }
    for _ in 0..HALVINGS {
        let middle = grid((bad + good) / 2.0);
        if (middle - good).abs() < 1e-9 || (middle - bad).abs() < 1e-9 {
            break;
        }
        if works(middle) { good = middle } else { bad = middle }
    }
    Some(good)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answers(closed: &str, open: &str, seats: &str, unit: PlanUnit) -> Answers {
        Answers { closed: closed.into(), open: open.into(), seats: seats.into(), unit }
    }

    #[test]
    fn three_answers_give_a_plan_that_passes_every_check() {
        for (closed, open, seats, unit) in [
            ("1200 mm", "1650 mm", "6", PlanUnit::Mm),
            ("1,1 m", "1500", "8 people", PlanUnit::Mm),
            ("4 ft", "5'4\"", "8", PlanUnit::Inch),
            ("40", "52", "5", PlanUnit::Inch),
            ("2000 mm", "2600 mm", "12", PlanUnit::Mm),
        ] {
            let given = answers(closed, open, seats, unit);
            let found = begin(&given).unwrap_or_else(|no| panic!("{given:?}: {no:?}"));
            assert_eq!(found.plan.typed("closed_diameter").as_deref(), Some(closed));
            assert_eq!(found.plan.typed("open_diameter").as_deref(), Some(open));
            let again = Plan::parse(found.plan.to_json().as_bytes()).unwrap().0;
            assert!(crate::build(&again).unwrap().sound(), "{given:?}");
            assert!(found.plan.texts().title.ends_with(&found.seats.to_string()));
        }
    }

    #[test]
    fn inches_are_written_on_the_marks_of_a_rule() {
        let found = begin(&answers("48 in", "64 in", "8", PlanUnit::Inch)).unwrap();
        let width = found.plan.typed("arm_width").unwrap();
        assert!(width.ends_with(" in"), "{width}");
    }

    #[test]
    fn the_edge_is_shared_evenly_where_it_can_be() {
        // By hand: six sitters at six sectors; eight at eight; ten at ten or five; seven at seven; three at six.
        for (seats, first) in [(6, 6), (8, 8), (10, 10), (7, 7), (3, 6), (4, 4), (16, 8)] {
            assert_eq!(sectors_for(seats)[0], first, "{seats}");
        }
        assert_eq!(sectors_for(9).len(), 9);
    }

    #[test]
    fn too_many_sitters_are_refused_with_what_would_do() {
        // 16 people at 1650 mm: π · 1650 / 16 = 324 mm each.
        let no = begin(&answers("1200 mm", "1650 mm", "16", PlanUnit::Mm)).unwrap_err();
        assert!(no.sentence.contains("324 mm"), "{}", no.sentence);
        assert!(!no.nearest.is_empty());
        for near in no.nearest {
            assert!(begin(&near.answers).is_ok(), "{near:?}");
        }
    }

    #[test]
    fn an_opening_beyond_reach_is_refused_with_the_nearest_that_works() {
        let no = begin(&answers("1000 mm", "1900 mm", "8", PlanUnit::Mm)).unwrap_err();
        assert!(no.sentence.ends_with('.'), "{}", no.sentence);
        assert!(!no.nearest.is_empty(), "{no:?}");
        for near in no.nearest {
            assert!(begin(&near.answers).is_ok(), "{near:?}");
        }
    }

    #[test]
    fn answers_that_cannot_be_read_are_refused_with_a_sentence() {
        for (closed, open, seats) in [
            ("wide", "1650 mm", "6"),
            ("1200 mm", "", "6"),
            ("1200 mm", "1e400", "6"),
            ("1200 mm", "1650 mm", "six"),
            ("1200 mm", "1650 mm", "0"),
            ("1200 mm", "1650 mm", "99999999999999"),
            ("1200 mm", "1100 mm", "6"),
        ] {
            let no = begin(&answers(closed, open, seats, PlanUnit::Mm)).unwrap_err();
            assert!(no.sentence.ends_with('.'), "{}", no.sentence);
        }
    }
}
