//! Which chapters a book has.
//!
//! In: keys of chapters. Out: [`Chapters`], a set.
//! Always true: cover, contents, cautions and the page that checks the print are in every book, whatever was chosen.

/// A chapter that may be left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// The table drawn and told.
    Table,
    /// How it moves.
    Motion,
    /// Given and solved sizes.
    Sizes,
    /// Pieces, hardware, tools, stock, mass.
    Lists,
    /// Cutting layouts.
    Cutting,
    /// Drawings of the whole table.
    Assembly,
    /// A sheet for each part.
    Drawings,
    /// Router, groove and drilling set-ups.
    Jigs,
    /// Building it, step by step.
    Steps,
    /// Levelling, shims, remedies.
    Adjusting,
    /// Strength and safety figures.
    Strength,
    /// Full-size templates.
    Templates,
    /// Notes and revisions.
    Revisions,
    /// Glossary and index of sizes.
    Index,
}

impl Part {
    /// All, in the order of the book, with their keys.
    pub const ALL: [(&'static str, Part); 14] = [
        ("table", Part::Table),
        ("motion", Part::Motion),
        ("sizes", Part::Sizes),
        ("lists", Part::Lists),
        ("cutting", Part::Cutting),
        ("assembly", Part::Assembly),
        ("drawings", Part::Drawings),
        ("jigs", Part::Jigs),
        ("steps", Part::Steps),
        ("adjusting", Part::Adjusting),
        ("strength", Part::Strength),
        ("templates", Part::Templates),
        ("revisions", Part::Revisions),
        ("index", Part::Index),
    ];
    fn bit(self) -> u32 {
        1 << (self as u32)
    }
}

/// A set of chapters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Chapters(u32);

impl Chapters {
    /// None beyond what every book has.
    pub const NONE: Chapters = Chapters(0);

    /// The whole book. Templates are an option of their own: they take a hundred sheets of paper.
    pub fn whole() -> Chapters {
        Part::ALL
            .iter()
            .filter(|(_, p)| *p != Part::Templates)
            .fold(Chapters::NONE, |set, (_, p)| set.with(*p))
    }
    /// What is needed at the saw and the bench.
    pub fn shop() -> Chapters {
        [Part::Lists, Part::Cutting, Part::Drawings, Part::Jigs]
            .into_iter()
            .fold(Chapters::NONE, Chapters::with)
    }
    /// With one more.
    pub fn with(self, part: Part) -> Chapters {
        Chapters(self.0 | part.bit())
    }
    /// Without one.
    pub fn without(self, part: Part) -> Chapters {
        Chapters(self.0 & !part.bit())
    }
    /// Whether one is in it.
    pub fn has(self, part: Part) -> bool {
        self.0 & part.bit() != 0
    }
    /// Whether nothing of the whole book is missing.
    pub fn complete(self) -> bool {
        Chapters::whole().0 & !self.0 == 0
    }
    /// From keys parted by commas: "whole", "shop", or chapters such as "lists,drawings". An error is one sentence.
    pub fn read(text: &str) -> Result<Chapters, String> {
        let mut set = Chapters::NONE;
        for key in text.split(',').map(str::trim).filter(|k| !k.is_empty()) {
            let more = match key {
                "whole" => Chapters::whole(),
                "shop" => Chapters::shop(),
                _ => match Part::ALL.iter().find(|(k, _)| *k == key) {
                    Some((_, part)) => Chapters::NONE.with(*part),
                    None => {
                        let keys: Vec<&str> = Part::ALL.iter().map(|(k, _)| *k).collect();
                        return Err(format!(
                            "There is no chapter called “{key}”; there are whole, shop, {}.",
                            keys.join(", ")
                        ));
                    }
                },
            };
            set = Chapters(set.0 | more.0);
        }
        if set == Chapters::NONE {
            return Err(
                "No chapter is named; “whole” means all of them, “shop” the sheets for the workshop.".into(),
            );
        }
        Ok(set)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chapters_are_read_by_key() {
        let read = |t: &str| Chapters::read(t).unwrap_or(Chapters::NONE);
        assert!(read("whole").complete() && !read("whole").has(Part::Templates));
        assert!(read("whole, templates").has(Part::Templates));
        let two = read("lists,jigs");
        assert!(two.has(Part::Lists) && two.has(Part::Jigs) && !two.has(Part::Table) && !two.complete());
        assert!(read("shop").has(Part::Cutting));
        assert!(
            Chapters::read("lists,recipes").is_err_and(|e| e.contains("“recipes”") && e.contains("jigs"))
        );
        assert!(Chapters::read(" , ").is_err());
    }
}
