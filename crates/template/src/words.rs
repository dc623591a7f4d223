//! Words of the templates, in English and German.
//!
//! In: a language tag, names and figures. Out: text.
//! Always true: any tag that is not German gives English.

use crate::options::TemplateOptions;
use turnleaf_units::print_decimal;

/// Words of one language.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Words {
    german: bool,
}

impl Words {
    /// By language tag.
    pub fn of(tag: &str) -> Words {
        let primary = tag.split(['-', '_']).next().unwrap_or_default();
        Words { german: primary.eq_ignore_ascii_case("de") }
    }
    /// BCP 47 tag.
    pub fn tag(self) -> &'static str {
        if self.german { "de" } else { "en" }
    }
    fn pick(self, en: String, de: String) -> String {
        if self.german { de } else { en }
    }
    fn say(self, en: &str, de: &str) -> String {
        if self.german { de.into() } else { en.into() }
    }

    pub fn title(self) -> String {
        self.say("Full-size templates", "Schablonen in wahrer Größe")
    }
    pub fn revision(self, mark: &str) -> String {
        self.pick(format!("Revision {mark}"), format!("Stand {mark}"))
    }
    pub fn deep(self, figure: &str, from_below: bool) -> String {
        match from_below {
            false => self.pick(format!("{figure} deep"), format!("{figure} tief")),
            true => self.pick(format!("{figure} deep from below"), format!("{figure} tief von unten")),
        }
    }
    pub fn wide(self, figure: &str) -> String {
        self.pick(format!("{figure} wide"), format!("{figure} breit"))
    }
    pub fn left(self, tile: &str) -> String {
        self.pick(format!("{tile} left"), format!("{tile} links"))
    }
    pub fn right(self, tile: &str) -> String {
        self.pick(format!("{tile} right"), format!("{tile} rechts"))
    }
    pub fn top(self, tile: &str) -> String {
        self.pick(format!("{tile} top"), format!("{tile} oben"))
    }
    pub fn bottom(self, tile: &str) -> String {
        self.pick(format!("{tile} bottom"), format!("{tile} unten"))
    }
    /// A side that is cut and laid on its neighbour.
    pub fn cut(self, mine: &str, other: &str) -> String {
        self.pick(
            format!("Cut along the line: {mine} meets {other}"),
            format!("An der Linie schneiden: {mine} trifft {other}"),
        )
    }
    /// A side that the neighbour is laid on.
    pub fn laid(self, mine: &str, other: &str) -> String {
        self.pick(format!("{mine} meets {other}"), format!("{mine} trifft {other}"))
    }
    pub fn tile(self, me: &str, last: &str) -> String {
        self.pick(format!("Tile {me} of A1–{last}"), format!("Blatt {me} von A1–{last}"))
    }
    pub fn alt(self, part: &str, tile: &str) -> String {
        self.pick(
            format!("{part} at full size, {tile}: lines to cut along, crosses for joining, check bars."),
            format!("{part} in wahrer Größe, {tile}: Schnittlinien, Passkreuze, Prüfbalken."),
        )
    }
    pub fn check_print(self) -> String {
        self.say("Before use, measure the bars along both axes.", "Vor Gebrauch beide Balken nachmessen.")
    }
    fn number(self, o: &TemplateOptions, value: f64, places: u8) -> String {
        print_decimal(value, places, o.sign()).unwrap_or_else(|| "–".into())
    }
    /// What the tile's scale is.
    pub fn scale(self, o: &TemplateOptions) -> String {
        if !o.compensated() {
            return self.say("1 : 1, print at 100 %", "1 : 1, mit 100 % drucken");
        }
        let (x, y) = (self.number(o, o.measured_x, 2), self.number(o, o.measured_y, 2));
        self.pick(
            format!("1 : 1 on a printer at x {x}, y {y}; 100 %"),
            format!("1 : 1 auf Drucker mit x {x}, y {y}; 100 %"),
        )
    }
    /// Paragraphs of the first page, each with a heading.
    pub fn front(self, o: &TemplateOptions) -> Vec<(String, String)> {
        let (overlap, margin) = (self.number(o, o.overlap, 1), self.number(o, o.margin, 1));
        let (x, y) = (self.number(o, o.measured_x, 2), self.number(o, o.measured_y, 2));
        let mut out = vec![(
            self.say("Print", "Drucken"),
            self.pick(
                format!("Print at full size (100 %, “actual size”), not fitted to the page. Nothing stands within {margin} mm of the paper's edge. Some pages are upright and some lie on their side; let the printer turn them."),
                format!("Mit 100 % („tatsächliche Größe“) drucken, nicht an die Seite angepasst. Die äußeren {margin} mm des Papiers bleiben frei. Manche Seiten stehen hoch, manche quer; der Drucker darf sie drehen."),
            ),
        )];
        out.push(if o.compensated() {
            (
                self.say("This printer only", "Nur für diesen Drucker"),
                self.pick(
                    format!("These pages make up for a printer whose 100 mm bars measured {x} mm (x, along the paper's short side) and {y} mm (y, along its long side). Printed there, the bars must now be 100 mm and 4 in long. Do not print these pages on another printer."),
                    format!("Diese Seiten gleichen einen Drucker aus, dessen 100-mm-Balken {x} mm (x, entlang der kurzen Papierseite) und {y} mm (y, entlang der langen) maßen. Von ihm gedruckt, müssen die Balken nun 100 mm und 4 in lang sein. Nicht mit einem anderen Drucker verwenden."),
                ),
            )
        } else {
            (
                self.say("Check", "Prüfen"),
                self.say(
                    "Measure the bars of the first tile with a steel rule: x lies along the paper's short side, y along its long side. If one is not 100 mm and 4 in long, note both lengths of the 100 mm bars, enter them, and print the templates made anew from them: these come out true on the same printer.",
                    "Die Balken des ersten Blatts mit einem Stahlmaßstab messen: x liegt entlang der kurzen, y entlang der langen Papierseite. Ist einer nicht 100 mm und 4 in lang, beide Längen der 100-mm-Balken eingeben und die damit neu erzeugten Schablonen drucken: auf demselben Drucker werden sie wahr.",
                ),
            )
        });
        out.push((
            self.say("Join", "Zusammenfügen"),
            self.pick(
                format!("Neighbouring tiles show the same {overlap} mm. Lay the tiles out as on the part's map. Cut each tile's left and lower sides along the line through the crosses, where one is drawn, and lay the cut side on the same line of its neighbour, so that crosses of the same letter become whole and lines run on. Tape it, then measure the distance between two crosses that the map gives."),
                format!("Benachbarte Blätter zeigen dieselben {overlap} mm. Die Blätter nach dem Plan des Teils auslegen. Links und unten an der Linie durch die Passkreuze schneiden, wo eine gezeichnet ist, und die Kante auf dieselbe Linie des Nachbarn legen, so dass Kreuze mit gleichem Buchstaben ganz werden und Linien durchlaufen. Kleben, dann den Abstand der beiden Kreuze nachmessen, den der Plan nennt."),
            ),
        ));
        out.push((
            self.say("Take care", "Vorsicht"),
            self.say(
                "Cut paper on a firm base with the blade moving away from your fingers. Paper swells in damp air: join and use templates on the same day. Before sawing or routing, compare the template with the sizes on the part's drawing, hold the work down, keep guards in place and follow the machine's own instructions.",
                "Papier auf fester Unterlage schneiden, die Klinge von den Fingern weg. Papier quillt bei Feuchte: Schablonen am selben Tag fügen und verwenden. Vor dem Sägen oder Fräsen mit den Maßen der Zeichnung vergleichen, das Werkstück festspannen, Schutzhauben benutzen und der Anleitung der Maschine folgen.",
            ),
        ));
        out
    }
    pub fn lines_heading(self) -> String {
        self.say("Lines (seen from the upper face)", "Linien (von oben gesehen)")
    }
    /// Meaning of each kind of line, in the order cut, near, far, centre, join.
    pub fn meanings(self) -> [String; 5] {
        [
            self.say("outline and openings, cut right through", "Umriss und Durchbrüche"),
            self.say("recess from the upper face, or a tongue below it", "Vertiefung von oben, oder Feder"),
            self.say(
                "recess from the lower face, or a groove in the edge",
                "Vertiefung von unten, oder Nut in der Kante",
            ),
            self.say("centre line, centre of a hole", "Mittellinie, Lochmitte"),
            self.say(
                "where two tiles meet: cut here on the left and below",
                "Stoß zweier Blätter: links und unten schneiden",
            ),
        ]
    }
    /// Titles of the list of parts: part, pieces, thickness, tiles, page.
    pub fn columns(self) -> [String; 5] {
        [
            self.say("Part", "Teil"),
            self.say("Pieces", "Stück"),
            self.say("Thickness", "Dicke"),
            self.say("Tiles", "Blätter"),
            self.say("Page", "Seite"),
        ]
    }
    pub fn map_title(self, part: &str) -> String {
        self.pick(format!("{part}: map of the tiles"), format!("{part}: Plan der Blätter"))
    }
    pub fn map_line(self, tiles: usize, last: &str, o: &TemplateOptions) -> String {
        let overlap = self.number(o, o.overlap, 1);
        self.pick(
            format!("{tiles} tiles of A1–{last}: rows A downward, columns 1 to the right; they overlap by {overlap} mm. Where no name stands, no tile is needed."),
            format!("{tiles} Blätter aus A1–{last}: Reihen ab A nach unten, Spalten ab 1 nach rechts; sie überlappen um {overlap} mm. Wo kein Name steht, braucht es kein Blatt."),
        )
    }
    pub fn distance(self, a: &str, b: &str, length: &str) -> String {
        self.pick(
            format!("Joined, the centres of cross {a} and cross {b} are {length} apart."),
            format!(
                "Zusammengefügt sind die Mitten von Kreuz {a} und Kreuz {b} {length} voneinander entfernt."
            ),
        )
    }
    pub fn between(self, letter: &str, first: &str, second: &str) -> String {
        format!("{letter} ({first}–{second})")
    }
    pub fn map_alt(self, part: &str) -> String {
        self.pick(
            format!("{part}, small, under the grid of its tiles with their names."),
            format!("{part}, verkleinert, unter dem Raster der Blätter mit ihren Namen."),
        )
    }
    pub fn material(self, part: &turnleaf_parts::Part, o: &TemplateOptions) -> String {
        let thick = o.figure(part.thickness);
        let unit = if matches!(o.units, turnleaf_units::PrintUnits::Mm(_)) { " mm" } else { "" };
        self.pick(
            format!("{} to make, {thick}{unit} thick.", part.count),
            format!("{} Stück, {thick}{unit} dick.", part.count),
        )
    }
}
