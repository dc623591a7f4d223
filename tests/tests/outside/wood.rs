//! Wood and plywood. In: handbook tables. Out: rows. Always true: moisture rows go by their °F labels.

use crate::table::{Group, Known::*, Source, Within};
use turnleaf_figures::{beams, plywood, wood};

const HANDBOOK: Source = Source::new("Wood Handbook, FPL-GTR-190 (2010)", "", Read);
const FINNISH: Source = Source::new("Handbook of Finnish Plywood", "table 3-1, EN 789", Memory);

fn of(id: &str, what: impl Fn(&wood::Species) -> f64) -> f64 {
    wood::species(id).as_ref().map_or(f64::NAN, what)
}

/// Moisture and movement.
pub fn moisture() -> Group {
    let mut g = Group::new("Moisture and movement of wood");
    let humidity = [10.0, 30.0, 50.0, 65.0, 80.0, 95.0];
    let rows: [(&str, f64, [&str; 6]); 4] = [
        (
            "equilibrium moisture at 30 °F, % (10 to 95 % humidity)",
            30.0,
            ["2.6", "6.3", "9.5", "12.4", "16.5", "24.3"],
        ),
        (
            "equilibrium moisture at 70 °F, % (10 to 95 % humidity)",
            70.0,
            ["2.5", "6.2", "9.2", "12.0", "16.0", "23.9"],
        ),
        (
            "equilibrium moisture at 90 °F, % (10 to 95 % humidity)",
            90.0,
            ["2.3", "5.9", "8.9", "11.5", "15.4", "23.3"],
        ),
        (
            "equilibrium moisture at 140 °F, % (10 to 95 % humidity)",
            140.0,
            ["1.9", "5.0", "7.7", "10.0", "13.6", "21.0"],
        ),
    ];
    for (what, fahrenheit, printed) in rows {
        let ours = humidity.map(|h| wood::equilibrium_moisture((fahrenheit - 32.0) / 1.8, h));
        g.figures(
            what,
            HANDBOOK.at("table 4-2"),
            printed.into_iter().zip(ours),
            Within::Of(0.06, "the handbook's equation and table differ by up to 0.052 between themselves"),
        );
    }
    let program = Source::new(
        "Equation 4-5 evaluated with the constants of the R package ConSciR (Simpson 1998)",
        "",
        Computed,
    );
    let spots =
        [(20.0, 50.0, "9.271"), (20.0, 65.0, "11.996"), (20.0, 30.0, "6.188"), (20.0, 80.0, "16.037")];
    g.figures(
        "equilibrium moisture at 20 °C and 50, 65, 30, 80 %",
        program,
        spots.map(|(t, h, p)| (p, wood::equilibrium_moisture(t, h))),
        Within::LastDigit,
    );
    g.not_followed(
        "equilibrium moisture at 20 °C and 50 %",
        Source::new("tramex.com, moisture table", "10 to 11 %", Quoted),
        "10.5",
        wood::equilibrium_moisture(20.0, 50.0),
        1.0,
        "a whole point above the handbook",
    );
    let table = HANDBOOK.at("table 13-5");
    let tangential = [
        ("0.00338", "birch-yellow"),
        ("0.00304", "birch-paper"),
        ("0.00365", "oak-white"),
        ("0.00369", "oak-red"),
        ("0.00353", "maple-sugar"),
        ("0.00274", "walnut-black"),
        ("0.00248", "cherry-black"),
        ("0.00431", "beech-american"),
    ];
    g.figures(
        "change across the grain for 1 % of moisture, flat-sawn, eight species",
        table,
        tangential.map(|(c, id)| (c, of(id, |s| s.change_tangential))),
        Within::LastDigit,
    );
    let tied = [
        ("0.00338", "birch-yellow"),
        ("0.00304", "birch-paper"),
        ("0.00353", "maple-sugar"),
        ("0.00274", "walnut-black"),
        ("0.00248", "cherry-black"),
        ("0.00431", "beech-american"),
    ];
    g.figures(
        "the same worked out from the shrinkage of table 4-3: 1/(3000/S − 20)",
        HANDBOOK.at("tables 4-3 and 13-5"),
        tied.map(|(c, id)| {
            (c, wood::change_from_shrinkage(of(id, |s| s.shrink_tangential.unwrap_or(f64::NAN))))
        }),
        Within::LastDigit,
    );
    let example = HANDBOOK.at("equation 13-2 and its example; 0.00245 and 8 to 11 % fit the printed numbers");
    g.figures(
        "a board of 232 mm: growth and width, mm",
        example,
        [
            ("1.7", wood::movement(232.0, 0.00245, 8.0, 11.0)),
            ("233.7", 232.0 + wood::movement(232.0, 0.00245, 8.0, 11.0)),
        ],
        Within::LastDigit,
    );
    g.figure(
        "the same board of 9.15 in: growth, in",
        example,
        "0.067",
        wood::movement(9.15, 0.00245, 8.0, 11.0),
    );
    g.figure(
        "a board of 5 in, 3 % and 0.00129: growth, in",
        Source::new("flooringartists.com", "", Quoted),
        "0.019",
        wood::movement(5.0, 0.00129, 0.0, 3.0),
    );
    g.not_followed(
        "12 in of red oak from 20 to 8 %: shrinkage, in",
        Source::new("A shrinkage calculator at pages.dev", "", Quoted),
        "2.91",
        -wood::movement(12.0, of("oak-red", |s| s.change_tangential), 20.0, 8.0),
        2.3,
        "takes a coefficient for a percentage; about half an inch is right",
    );
    g
}

/// Strength.
pub fn strength() -> Group {
    let mut g = Group::new("Strength and weight of wood");
    let e = [
        ("2.01", "birch-yellow"),
        ("1.59", "birch-paper"),
        ("2.17", "birch-sweet"),
        ("1.72", "beech-american"),
        ("1.49", "cherry-black"),
        ("1.68", "walnut-black"),
        ("1.83", "maple-sugar"),
    ];
    let psi = 4.448_221_615_260_5 / (25.4 * 25.4);
    let table = Source { known: Quoted, ..HANDBOOK.at("table 5-3 (copies of its rows)") };
    g.figures(
        "modulus of elasticity, 10⁶ psi, seven species",
        table,
        e.map(|(p, id)| (p, of(id, |s| s.modulus / psi / 1e6))),
        Within::LastDigit,
    );
    let metric = [
        ("13900", "birch-yellow"),
        ("12600", "maple-sugar"),
        ("11900", "beech-american"),
        ("11600", "walnut-black"),
    ];
    g.figures(
        "modulus of elasticity, MPa, as the metric table prints it",
        HANDBOOK.at("table 5-3a").memory(),
        metric.map(|(p, id)| (p, of(id, |s| s.modulus))),
        Within::Of(50.0, "printed to hundreds"),
    );
    g.figure(
        "modulus of rupture of sugar maple, MPa",
        Source::new("engdatabase.com, sugar maple (USDA Wood Handbook)", "15 800 psi", Quoted),
        "109",
        of("maple-sugar", |s| s.rupture),
    );
    let gravity = [
        ("0.62", "birch-yellow"),
        ("0.64", "beech-american"),
        ("0.50", "cherry-black"),
        ("0.55", "walnut-black"),
    ];
    g.figures(
        "specific gravity, four species",
        table,
        gravity.map(|(p, id)| (p, of(id, |s| s.gravity))),
        Within::LastDigit,
    );
    g
}

/// Plywood.
pub fn plywood() -> Group {
    let mut g = Group::new("Plywood");
    let sheet = plywood::sheet(13);
    let read = Source { known: Quoted, ..FINNISH };
    g.figures(
        "18 mm of 13 plies: modulus along and across, MPa",
        read,
        [("10048", sheet.bend_along), ("7452", sheet.bend_across)],
        Within::LastDigit,
    );
    g.figure(
        "18 mm: bending strength along, N/mm²",
        read,
        "40.2",
        plywood::Sheet::strength(sheet.bend_along),
    );
    g.figure("density, kg/m³", read.at("table 3-2"), "680", plywood::DENSITY);
    let along = [
        (3, "16471"),
        (5, "12737"),
        (7, "11395"),
        (9, "10719"),
        (11, "10316"),
        (15, "9858"),
        (17, "9717"),
        (21, "9519"),
    ];
    g.figures(
        "modulus along the grain, 3 to 21 plies, MPa",
        FINNISH,
        along.map(|(n, p)| (p, plywood::sheet(n).bend_along)),
        Within::LastDigit,
    );
    let thick = [(3, "3.6"), (5, "6.4"), (7, "9.2"), (9, "12.0"), (13, "17.6"), (15, "20.4"), (21, "28.8")];
    g.figures(
        "true thickness, 3 to 21 plies, mm",
        FINNISH,
        thick.map(|(n, p)| (p, plywood::sheet(n).thickness)),
        Within::LastDigit,
    );
    let bs = Source::new("BS 5268-2, sanded Finnish birch (roymech.org)", "per metre of width", Quoted);
    let z = [(6.1, "6.2"), (8.8, "12.9"), (13.9, "32.2"), (17.1, "48.7"), (20.0, "66.7"), (22.9, "87.4")];
    g.figures(
        "section modulus on the least thickness, 10³ mm³",
        bs,
        z.map(|(t, p)| (p, beams::rectangle_z(1000.0, t) / 1000.0)),
        Within::LastDigit,
    );
    let i = [(13.9, "224"), (17.1, "417"), (20.0, "667"), (22.9, "1001")];
    g.figures(
        "second moment on the least thickness, 10³ mm⁴",
        bs,
        i.map(|(t, p)| (p, beams::rectangle_i(1000.0, t) / 1000.0)),
        Within::LastDigit,
    );
    g.not_followed(
        "weight of 30 mm plywood, kg/m²",
        bs,
        "17.1",
        plywood::DENSITY * 0.030,
        3.0,
        "570 kg/m³, out of line with every other row",
    );
    let mill = Source::new("Mill table for EN 315 (nestplywood.com, plyterra.com)", "", Quoted);
    let down = |x: f64| (x * 10.0 + 1e-9).floor() / 10.0;
    let rows = [(12.0, "0.5", "0.7"), (18.0, "0.7", "0.9"), (24.0, "0.9", "1.1"), (30.0, "1.1", "1.3")];
    let both = rows.iter().flat_map(|(t, p, m)| {
        let (plus, minus) = plywood::tolerance_en315(*t);
        [(*p, down(plus)), (*m, down(minus))]
    });
    g.figures(
        "sanded 12, 18, 24 and 30 mm: plus and minus, mm",
        mill,
        both.collect::<Vec<_>>(),
        Within::Of(1e-9, "the mill cuts the formula down to tenths, and so does this row"),
    );
    let least = [(18.0, "17.1"), (21.0, "20.0"), (24.0, "22.9")];
    g.figures(
        "least thickness of 18, 21 and 24 mm, mm",
        bs,
        least.map(|(t, p)| (p, t - plywood::tolerance_en315(t).1)),
        Within::LastDigit,
    );
    let ps1 = Source::new("PS 1-19 (apawood-europe.org, tolerances)", "sanded", Read);
    g.figures(
        "sanded 3/4 in and 1 in: tolerance, in",
        ps1.at("1/64 in to 3/4 in, 3 % above"),
        [
            ("0.015625", plywood::tolerance_ps1(19.05).0 / 25.4),
            ("0.03", plywood::tolerance_ps1(25.4).1 / 25.4),
        ],
        Within::Of(1e-9, "a fraction and a share"),
    );
    g
}
