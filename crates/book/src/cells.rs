//! The lists as rows of cells, for programs.
//!
//! In: the book's input and options. Out: [`List`]s.
//! Always true: the first row names the columns, in English whatever the book's language; lengths are given in
//! millimetres and in inches as plain decimals with a point; what the lists of the book show is here too.

use crate::chapters::{cutting, lists};
use crate::cx::Cx;
use crate::strips::{Section, bought_whole, strips};
use crate::{BookInput, BookOptions};
use turnleaf_parts::Part;
use turnleaf_units::{DecimalSign, print_decimal};

/// One list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct List {
    /// Its name, fit for a file.
    pub name: &'static str,
    /// Rows, the first with the names of the columns.
    pub rows: Vec<Vec<String>>,
}

impl List {
    fn new(name: &'static str, columns: &str) -> List {
        List { name, rows: vec![columns.split(' ').map(str::to_string).collect()] }
    }
    fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        self.rows.push(cells.into_iter().collect());
    }
}

fn number(x: f64, decimals: u8) -> String {
    print_decimal(x, decimals, DecimalSign::Point).unwrap_or_default().replace('−', "-")
}
fn mm(x: f64) -> String {
    number(x, 3)
}
fn inch(x: f64) -> String {
    number(x / 25.4, 4)
}

/// Length, width and thickness in mm, then in inches.
fn sizes(p: &Part) -> [String; 6] {
    let [a, b, c] = p.size();
    [mm(a), mm(b), mm(c), inch(a), inch(b), inch(c)]
}

/// All lists: parts, hardware, stock, layouts, rips, strips, tools.
pub fn all(input: &BookInput, options: &BookOptions) -> Vec<List> {
    let cx = Cx::new(input, options);
    let assembly = input.assembly;
    let mut parts = List::new(
        "parts",
        "number id name count length_mm width_mm thickness_mm length_in width_in thickness_in material sheets mass_kg",
    );
    let mut hardware = List::new(
        "hardware",
        "number id name count length_mm width_mm thickness_mm length_in width_in thickness_in material standard mass_kg",
    );
    for p in assembly.parts.iter().filter(|p| p.count > 0) {
        let mut cells =
            vec![cx.part_number(&p.id).to_string(), p.id.clone(), cx.part_name(p), p.count.to_string()];
        cells.extend(sizes(p));
        cells.push(cx.material(&p.material));
        let mass = lists::mass_of(&cx, &p.id).map_or(String::new(), |m| number(m, 3));
        if p.made {
            let sheets = cutting::sheets_of(&cx, &p.id);
            cells.push(sheets.iter().map(|s| (s + 1).to_string()).collect::<Vec<_>>().join(" "));
            cells.push(mass);
            parts.row(cells);
        } else {
            cells.extend([lists::standard(&cx, p), mass]);
            hardware.row(cells);
        }
    }
    let mut stock = List::new("stock", "material size count price_each cost");
    for b in lists::to_buy(&cx) {
        stock.row([b.what, b.size, b.count.to_string(), String::new(), String::new()]);
    }
    for p in assembly.parts.iter().filter(|p| !p.made && p.count > 0 && bought_whole(p)) {
        let size = cx.or_dash(cx.say.part_size(p)).replace('\n', ", ");
        stock.row([cx.part_name(p), size, p.count.to_string(), String::new(), String::new()]);
    }
    let mut layouts = List::new(
        "layouts",
        "sheet stock sheet_length_mm sheet_width_mm part_number part instance x_mm y_mm turned_deg",
    );
    let mut rips = List::new("rips", "sheet from_mm width_mm from_in width_in parts");
    if let Some((request, found)) = input.layouts() {
        for (i, layout) in found.sheets.iter().enumerate() {
            let size = &request.sheets[layout.sheet];
            let sheet = (i + 1).to_string();
            for one in &layout.placements {
                let part = &request.parts[one.part];
                layouts.row([
                    sheet.clone(),
                    cutting::stock_name(&cx, request, layout),
                    mm(size.length),
                    mm(size.width),
                    cx.part_number(&part.id).to_string(),
                    part.id.clone(),
                    one.instance.to_string(),
                    mm(one.at.x),
                    mm(one.at.y),
                    number(one.turned, 4),
                ]);
            }
            for band in &layout.bands {
                let wide = band.to - band.from;
                let ids: Vec<&str> = band
                    .placements
                    .iter()
                    .map(|p| request.parts[layout.placements[*p].part].id.as_str())
                    .collect();
                rips.row([
                    sheet.clone(),
                    mm(band.from),
                    mm(wide),
                    inch(band.from),
                    inch(wide),
                    ids.join(" "),
                ]);
            }
        }
    }
    let mut bars = List::new(
        "strips",
        "material section width_mm thickness_mm board part_number part length_mm length_in",
    );
    let on_hand = input.plan.stock();
    for strip in strips(assembly, on_hand.board.mm(), on_hand.kerf.mm()) {
        let (shape, a, b) = match strip.section {
            Section::Square(a, b) => ("square", a, b),
            Section::Round(d) => ("round", d, d),
        };
        for (k, board) in strip.boards.iter().enumerate() {
            for (part, long) in board {
                let id = &assembly.parts[*part].id;
                bars.row([
                    cx.material(&strip.material),
                    shape.to_string(),
                    mm(a),
                    mm(b),
                    (k + 1).to_string(),
                    cx.part_number(id).to_string(),
                    id.clone(),
                    mm(*long),
                    inch(*long),
                ]);
            }
        }
    }
    let mut tools = List::new("tools", "tool");
    for text in lists::tools(&cx) {
        tools.row([text]);
    }
    vec![parts, hardware, stock, layouts, rips, bars, tools]
}
