//! The rows as a page. In: groups. Out: Markdown.
//!
//! Always true: the page says nothing that is not in a row, but for the words round the tables.

use crate::table::{Group, Known, Pair, Row, Within, decimals, half_digit};
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// Most figures of a list shown whole.
const SHOWN: usize = 6;

/// The page.
pub fn markdown(groups: &[Group]) -> String {
    let rows: Vec<&Row> = groups.iter().flat_map(|g| &g.rows).collect();
    let sources: BTreeSet<&str> = rows.iter().map(|r| r.source.name).collect();
    let of = |known: Known| rows.iter().filter(|r| r.source.known == known).count();
    let figures: usize = rows
        .iter()
        .map(|r| match &r.pair {
            Pair::Figures(pairs, _) => pairs.len(),
            _ => 1,
        })
        .sum();
    let mut out = String::new();
    let _ = write!(
        out,
        "# Outside checks\n\n\
        What others published beside what this program works out: {} rows with {figures} values from {} sources. \
        The page is made by `cargo xtask outside` from the table in `tests/tests/outside`; the test of that name works \
        out every value in the column “ours” anew, holds it to its tolerance, shows that each row can fail, and holds \
        this page to the table.\n\n\
        - **read** ({}): in the publication itself. **quoted** ({}): in a text that quotes it.\n\
        - **memory** ({}): not read for this project; a mistake there is possible.\n\
        - **computed** ({}): with a general-purpose library that shares no code with this project.\n\
        - Where no other reason stands, the tolerance is half a unit of the last digit that the source prints.\n\
        - A row marked **not followed** is a value found to be wrong where it stands: ours must differ from it.\n",
        rows.len(),
        sources.len(),
        of(Known::Read),
        of(Known::Quoted),
        of(Known::Memory),
        of(Known::Computed),
    );
    for group in groups {
        let _ = write!(
            out,
            "\n## {}\n\n| what | source | theirs | ours | tolerance | known |\n|---|---|---|---|---|---|\n",
            group.heading
        );
        for row in &group.rows {
            let (theirs, ours, tolerance) = cells(row);
            let place =
                if row.source.place.is_empty() { String::new() } else { format!(", {}", row.source.place) };
            let cells =
                [row.what, &format!("{}{place}", row.source.name), &theirs, &ours, &tolerance, known(row)];
            let _ = writeln!(out, "| {} |", cells.map(|c| c.replace('|', "\\|")).join(" | "));
        }
    }
    out.push_str(BESIDE);
    out
}

fn known(row: &Row) -> &'static str {
    match row.source.known {
        Known::Read => "read",
        Known::Quoted => "quoted",
        Known::Memory => "memory",
        Known::Computed => "computed",
    }
}

/// Theirs, ours, tolerance.
fn cells(row: &Row) -> (String, String, String) {
    match &row.pair {
        Pair::Figures(pairs, within) => {
            let ours: Vec<String> =
                pairs.iter().map(|(theirs, ours)| shown(*ours, decimals(theirs) + 2)).collect();
            let tolerance = match within {
                Within::LastDigit if pairs.len() == 1 => format!("± {}", tidy(half_digit(pairs[0].0))),
                Within::LastDigit => "half of each last digit".into(),
                Within::Exactly(why) => format!("0: {why}"),
                Within::Of(most, why) => format!("± {}: {why}", tidy(*most)),
            };
            let theirs: Vec<String> = pairs.iter().map(|p| p.0.to_string()).collect();
            (list(&theirs), list(&ours), tolerance)
        }
        Pair::Words(theirs, ours, why) => (theirs.to_string(), ours.clone(), format!("equal: {why}")),
        Pair::Between(low, high, ours, why) => {
            let theirs = if high.is_finite() {
                format!("{} to {}", shown(*low, 4), shown(*high, 4))
            } else {
                format!("at least {}", shown(*low, 4))
            };
            (theirs, shown(*ours, 4), format!("inside: {why}"))
        }
        Pair::NotFollowed(theirs, ours, apart, why) => (
            format!("{theirs} (**not followed**)"),
            shown(*ours, decimals(theirs) + 2),
            format!("apart by {} or more: {why}", tidy(*apart)),
        ),
    }
}

fn list(all: &[String]) -> String {
    if all.len() <= SHOWN + 1 {
        return all.join(", ");
    }
    format!("{}, … {} ({} values)", all[..SHOWN - 2].join(", "), all[all.len() - 1], all.len())
}

/// A number to so many decimals, without needless noughts.
fn shown(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text =
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_string() } else { text };
    if text == "-0" { "0".into() } else { text }
}

/// A tolerance: plain when it is readable so.
fn tidy(value: f64) -> String {
    if value == 0.0 || value >= 1e-4 { format!("{value}") } else { format!("{value:e}") }
}

/// What is compared elsewhere. Counts are what the scripts printed for the committed cases.
const BESIDE: &str = "
## Compared by outside programs

`cargo xtask test python` feeds our results to scripts that share no code with the program (pinned in \
`tests/python/*requirements.txt`); each prints how many were compared and the largest difference:

| script | judged by | what is compared | counted |
|---|---|---|---|
| `geometry_check.py` | shapely (GEOS) | areas, lengths, distances, unions, cuts, offsets of outlines with true arcs | 264 cases, 0 differences |
| `figures_check.py` | scipy, pint, shapely, uncertainties, indeterminatebeam, Pynite | overhangs 16, frames 40, arms 130, sections 96, masses 316, stacks 24, tipping 4, ramps 4, bows 80, moistures 120, species 18 | 848 values |
| `nesting_check.py` | shapely | every layout of the demo tables: nothing overlaps, nothing leaves its sheet | 9 cases, 385 parts, 0 faults |
| `hidden_lines_check.py` | OpenCASCADE | visible and hidden lengths of whole tables, stretch by stretch | printed by the run |
| `motion_check.py` | shapely | drawn plans at many turns: what the proof says against polygons | printed by the run |
| `revise_check.py` | shapely | whether parts cut to one plan serve in another | printed by the run |
| `book_check.py` | pypdf, PDFium | books: figures printed, links, outlines, attached plan | printed by the run |
| `cut_check.py` | svgelements, shapely | cut files against the parts' own outlines | printed by the run |

Decimals of an inch, millimetres of an inch and moisture are compared table by table, every row of them, in \
`crates/units/tests/published.rs` and `crates/figures/tests/published.rs`.
";
