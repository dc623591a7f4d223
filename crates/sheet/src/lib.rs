//! Drawing sheets: a part's dimensioned view on paper, with everything a workshop sheet carries.
//!
//! In: a part and how its sheet is wanted; or items already set out for a framed page. Out: pages, what is wrong with the drawing, and the proof that it
//! is complete.
//! Always true: nothing lies outside the frame; the scale is of the preferred series; a drawing that cannot
//! be proved complete comes with an error that says what is missing.
//!
//! ```
//! use turnleaf_mechanism::{Sizes, solve};
//! use turnleaf_sheet::{SheetOptions, part_sheet};
//! let table = turnleaf_parts::assemble(&solve(&Sizes::example()).expect("the demo's sizes agree"));
//! let (pages, said, proof) =
//!     part_sheet(table.part("star-lever").expect("a table has levers"), &SheetOptions::default());
//! assert!(proof.holds() && said.is_empty());
//! // A4 by ISO 216, lying or standing.
//! assert!(pages.iter().all(|p| [p.width, p.height] == [210.0, 297.0] || [p.width, p.height] == [297.0, 210.0]));
//! ```

mod arrange;
mod bars;
pub mod block;
mod compose;
mod frame;
mod notes;
mod options;
mod scale;
mod table;
mod title;

pub use compose::{Framing, drawing_space, framed};
pub use frame::{Border, zones};
pub use options::{Projection, RevisionLine, SheetOptions, TitleData, Tolerance};
pub use scale::{PREFERRED, Scale};
pub use title::{Subject, TITLE_HEIGHT, TITLE_WIDTH};

use turnleaf_diag::Diagnostic;
pub use turnleaf_dimension::Tongue;
use turnleaf_dimension::printed::{figures, with_general, with_tolerance};
use turnleaf_dimension::{Proof, choose, prove_printed};
use turnleaf_page::Page;
use turnleaf_parts::Part;

/// Clear space between blocks and to the frame, mm.
const GAP: f64 = 4.0;

/// A part's sheets, drawn but not numbered yet.
pub struct PartSheets {
    subject: Subject,
    loose: Vec<compose::Loose>,
    /// What is not as it should be.
    pub said: Vec<Diagnostic>,
    /// Whether the printed figures rebuild the part.
    pub proof: Proof,
}

impl PartSheets {
    /// The pages, the first with the number `first_sheet` of the options, which must else be those they were drawn with.
    pub fn pages(&self, options: &SheetOptions) -> Vec<Page> {
        compose::numbered(&self.subject, &self.loose, options)
    }
}

/// The sheets of a part, what is wrong with them, and the proof of completeness.
pub fn part_sheet(part: &Part, options: &SheetOptions) -> (Vec<Page>, Vec<Diagnostic>, Proof) {
    let drawn = draw_part(part, options);
    (drawn.pages(options), drawn.said, drawn.proof)
}

/// Draws and proves a part; its pages get their numbers afterwards.
pub fn draw_part(part: &Part, options: &SheetOptions) -> PartSheets {
    let made = part.as_made();
    let part = made.as_ref();
    let mut drawing = choose(part);
    for dim in &mut drawing.dimensions {
        dim.origin = options.origin_of(&dim.id);
    }
    let wording = options.wording();
    let mut figures = figures(&drawing, &wording);
    for (k, dim) in drawing.dimensions.iter().enumerate() {
        if let Some(half) = options.tolerance_of(&dim.id) {
            with_tolerance(&mut figures[k], &drawing, k, half, &wording);
        } else if let Some(half) = options.general.filter(|_| !drawing.is_free(k)) {
            with_general(&mut figures[k], &drawing, k, half, &wording);
        }
    }
    let (proof, mut said) = prove_printed(&drawing, &wording, &figures);
    drawing.in_tongue(&options.tongue);
    let subject = Subject {
        id: part.id.clone(),
        name: part.name.clone(),
        material: part.material.clone(),
        make: options.tongue.say(&format!("{} off", part.count)),
    };
    let (loose, crowded) = compose::compose(part, &drawing, &figures, options);
    if loose.is_empty() {
        said.push(
            Diagnostic::error(
                format!("sheet.{}.paper", part.id),
                format!(
                    "The {} does not fit on {} at any scale.",
                    part.name.to_lowercase(),
                    options.paper.key()
                ),
            )
            .hint("Choose a larger paper."),
        );
        return PartSheets { subject, loose, said, proof };
    }
    for id in crowded {
        said.push(
            Diagnostic::warning(
                format!("sheet.{}.crowded", part.id),
                format!("On the sheet of the {} there was no free place for {id}.", part.name.to_lowercase()),
            )
            .hint("Choose a larger paper."),
        );
    }
    PartSheets { subject, loose, said, proof }
}
