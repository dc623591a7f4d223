//! The heavy work: proof, checks, numbers, and the book.
//!
//! In: a question with the plan as text. Out: an answer as plain values that can cross to another thread.
//! Always true: every question gets exactly one answer; a question about a plan that gives no table is answered
//! with what is at odds; a plan is worked out once, however many questions follow about it. Nothing here touches
//! the browser, so the work runs in a worker or, where there is none, on the page itself. [`Checks`] names nothing
//! that draws or writes pages, so that a program made of it alone is small and comes first.

use crate::copies;
use crate::core::{
    Answers, Begun, Book, Built, Check, Editions, Glimpse, Limits, Mends, NoTable, Number, PageInfo,
    PageView, Picture, Plan, ShopBook, ShopSheet, StepView, Strength, begin, fonts, glimpse, limits, open,
    shop, shop_sheets,
};
use crate::kept::first;
use crate::revising::{Asked, Told};
use serde::{Deserialize, Serialize};

/// A question; each carries the plan it is about.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Ask {
    /// Numbers and checks.
    Build(String),
    /// The list of the pages of a book with the chapters named.
    Book(String, String),
    /// Some pages of that book, by their places, as drawings with the places of some words marked.
    Pages(String, String, Vec<usize>, String),
    /// Pages at some places of the book made last, drawn for a newer plan, where they can be drawn alone, with the places
    /// of some words marked.
    Early(String, Vec<usize>, String),
    /// Some pages of that book as small pictures.
    Thumbs(String, String, Vec<usize>),
    /// Some pages of that book for the printer.
    Print(String, String, Vec<usize>),
    /// Parts and steps for the shop view, from a book that has sheets and steps.
    Shop(String, String),
    /// The sheets of one part of that book.
    ShopSheets(String, String, String),
    /// Where words stand in that book.
    Find(String, String, String),
    /// That book as a file.
    Pdf(String, String),
    /// What would mend a plan that gives no table, or a check of one that does.
    Mend(String, Option<String>),
    /// How far a size may go.
    Limits(String, String),
    /// A small picture of a plan's table, for a card.
    Glimpse(String),
    /// A plan from three answers.
    Begin(Answers),
    /// About editions: issuing, comparing, making again.
    Editions(Asked),
    /// The plan inside a saved book. The bytes cross beside the text of a question, not inside it.
    Unpack(#[serde(skip)] Vec<u8>),
    /// The fonts that pages are drawn with.
    Fonts,
    /// Whether a picture with this caption can be used. Its bytes cross beside the text.
    Picture(String, #[serde(skip)] Vec<u8>),
    /// About a list of copies. Its bytes cross beside the text.
    Copies(Box<copies::Deed>, #[serde(skip)] Vec<u8>),
}

/// The two programs of the heavy half. Each has a file of its own, fetched when it is first asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Room {
    /// Proof, checks, remedies: needed before anything can be said of a table.
    Checks,
    /// Pages, files, editions.
    Book,
}

impl Ask {
    /// Which program answers.
    pub fn room(&self) -> Room {
        match self {
            Ask::Build(_) | Ask::Mend(..) | Ask::Limits(..) | Ask::Glimpse(_) | Ask::Begin(_) => Room::Checks,
            // That program has time sooner, and a list needs little of either.
            Ask::Copies(..) => Room::Checks,
            _ => Room::Book,
        }
    }

    /// A short name, for measurements.
    pub fn name(&self) -> &'static str {
        match self {
            Ask::Build(_) => "build",
            Ask::Book(..) => "book",
            Ask::Pages(..) => "pages",
            Ask::Early(..) => "early",
            Ask::Thumbs(..) => "thumbs",
            Ask::Print(..) => "print",
            Ask::Shop(..) => "shop",
            Ask::ShopSheets(..) => "shop-sheets",
            Ask::Find(..) => "find",
            Ask::Pdf(..) => "pdf",
            Ask::Mend(..) => "mend",
            Ask::Limits(..) => "limits",
            Ask::Glimpse(_) => "glimpse",
            Ask::Begin(_) => "begin",
            Ask::Editions(asked) => asked.name(),
            Ask::Unpack(_) => "unpack",
            Ask::Fonts => "fonts",
            Ask::Picture(..) => "picture",
            Ask::Copies(..) => "copies",
        }
    }

    /// Whether a newer question of this kind makes an older one pointless. A file that was asked for is wanted, and so is
    /// the picture of every card.
    pub fn outdates(&self, older: &Ask) -> bool {
        let file = match self {
            Ask::Pdf(..) | Ask::Glimpse(_) | Ask::Unpack(_) | Ask::Picture(..) | Ask::Copies(..) => true,
            Ask::Editions(asked) => asked.wanted(),
            _ => false,
        };
        self.name() == older.name() && !file
    }
}

/// An answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Answer {
    /// To [`Ask::Build`].
    Built(Findings),
    /// To [`Ask::Book`].
    Book(Contents),
    /// To [`Ask::Pages`].
    Pages(Vec<PageView>),
    /// To [`Ask::Early`]: none for what has to wait for the book.
    Early(Vec<Option<PageView>>),
    /// To [`Ask::Thumbs`] and [`Ask::Print`].
    Drawings(Vec<String>),
    /// To [`Ask::Shop`].
    Shop(ShopBook),
    /// To [`Ask::ShopSheets`].
    ShopSheets(Vec<ShopSheet>),
    /// To [`Ask::Find`]: places of pages, and how often the words stand on each.
    Found(Vec<(usize, usize)>),
    /// To [`Ask::Pdf`]. The bytes cross beside the text of an answer, not inside it.
    Pdf(#[serde(skip)] Vec<u8>),
    /// To [`Ask::Mend`].
    Mends(Mends),
    /// To [`Ask::Limits`].
    Limits(Option<Limits>),
    /// To [`Ask::Glimpse`]; none when the sizes give no table.
    Glimpse(Option<Glimpse>),
    /// To [`Ask::Begin`].
    Begun(Result<Begun, NoTable>),
    /// To [`Ask::Editions`]; a file that comes with it crosses beside the text.
    Editions(Told, #[serde(skip)] Vec<u8>),
    /// To [`Ask::Unpack`]: the plan as text, and what else is to be said of it.
    Unpacked(String, Vec<String>),
    /// To [`Ask::Fonts`]: what each is, and the files one after another.
    Fonts(Vec<FontFile>, #[serde(skip)] Vec<u8>),
    /// To [`Ask::Picture`]: it can, and here are its bytes again.
    Picture(#[serde(skip)] Vec<u8>),
    /// To [`Ask::Copies`]; the bytes that go with it cross beside the text.
    Copies(copies::Told, #[serde(skip)] Vec<u8>),
    /// It could not be done; one sentence.
    Failed(String),
}

/// A font among those that come together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FontFile {
    /// Family.
    pub family: String,
    /// Weight, 100 to 900.
    pub weight: u16,
    /// Whether slanted.
    pub slanted: bool,
    /// Bytes of its file.
    pub length: usize,
}

/// The fonts of the book's pages: what each is, and the files one after another.
pub fn font_files() -> (Vec<FontFile>, Vec<u8>) {
    let mut files = Vec::new();
    let list = fonts().map(|(family, weight, slanted, bytes)| {
        files.extend_from_slice(bytes);
        FontFile { family: family.into(), weight, slanted, length: bytes.len() }
    });
    (list.collect(), files)
}

/// What a build found.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct Findings {
    /// Solved numbers in book order.
    pub numbers: Vec<Number>,
    /// Checks in book order.
    pub checks: Vec<Check>,
    /// Strength, weight and safety figures.
    pub strength: Vec<Strength>,
    /// Build steps in the order of the book.
    pub steps: Vec<StepView>,
    /// What is wrong with the maker's changes to them.
    pub step_remarks: Vec<String>,
}

/// What is in a book.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct Contents {
    /// The plan it was made from.
    pub plan: String,
    /// The chapters it has, as they were chosen.
    pub chapters: String,
    /// Its pages.
    pub pages: Vec<PageInfo>,
    /// What did not fit, as sentences.
    pub remarks: Vec<String>,
}

impl Findings {
    /// A solved number.
    pub fn number(&self, id: &str) -> Option<&Number> {
        self.numbers.iter().find(|number| number.id == id)
    }
}

/// Who proves and checks, and what is held on to between questions.
#[derive(Default)]
pub struct Checks {
    built: Option<(String, Built)>,
}

impl Checks {
    /// Answers a question of [`Room::Checks`]; any other is said not to be one.
    pub fn answer(&mut self, ask: Ask) -> Answer {
        // Here and not below, so that only this program carries what takes lists apart.
        let done = match ask {
            Ask::Copies(deed, bytes) => deed.done(&bytes).map(|(told, bytes)| Answer::Copies(told, bytes)),
            other => self.done(other),
        };
        done.unwrap_or_else(Answer::Failed)
    }

    fn done(&mut self, ask: Ask) -> Result<Answer, String> {
        Ok(match ask {
            Ask::Build(plan) => {
                let built = self.built(&plan)?;
                let (steps, step_remarks) = built.steps();
                Answer::Built(Findings {
                    numbers: built.numbers(),
                    checks: built.checks(),
                    strength: built.strength(),
                    steps,
                    step_remarks,
                })
            }
            Ask::Mend(plan, None) => Answer::Mends(Mends::for_plan(&known(&plan)?)),
            Ask::Mend(plan, Some(check)) => Answer::Mends(self.built(&plan)?.mends(&check)),
            Ask::Glimpse(plan) => Answer::Glimpse(glimpse(&known(&plan)?)),
            Ask::Begin(answers) => Answer::Begun(begin(&answers)),
            Ask::Limits(plan, size) => Answer::Limits(limits(&known(&plan)?, &size)),
            other => return Err(format!("The question “{}” came to the wrong room.", other.name())),
        })
    }

    fn built(&mut self, plan: &str) -> Result<&Built, String> {
        self.built_from(plan, known)
    }

    fn built_from(&mut self, plan: &str, read: fn(&str) -> Result<Plan, String>) -> Result<&Built, String> {
        if self.built.as_ref().is_none_or(|(of, _)| of != plan) {
            let built = Built::new(&read(plan)?).map_err(|found| first(&found))?;
            self.built = Some((plan.to_string(), built));
        }
        self.built.as_ref().map(|(_, built)| built).ok_or_else(String::new)
    }
}

/// Who makes books as well, and what is held on to between questions.
#[derive(Default)]
pub struct Bench {
    checks: Checks,
    /// With its plan and its chapters.
    book: Option<((String, String), Book)>,
    editions: Editions,
}

impl Bench {
    /// Answers a question.
    pub fn answer(&mut self, ask: Ask) -> Answer {
        self.done(ask).unwrap_or_else(Answer::Failed)
    }

    fn done(&mut self, ask: Ask) -> Result<Answer, String> {
        Ok(match ask {
            Ask::Book(plan, chapters) => {
                let book = self.book(&plan, &chapters)?;
                Answer::Book(Contents { pages: book.pages(), remarks: book.remarks(), plan, chapters })
            }
            Ask::Pages(plan, chapters, places, words) => {
                Answer::Pages(self.book(&plan, &chapters)?.views(&places, &words))
            }
            Ask::Early(plan, places, words) => {
                let built = self.checks.built_from(&plan, whole)?;
                let older = self.book.as_ref();
                Answer::Early(older.map_or_else(Vec::new, |(_, book)| built.early(book, &places, &words)))
            }
            Ask::Thumbs(plan, chapters, places) | Ask::Print(plan, chapters, places) => {
                Answer::Drawings(self.book(&plan, &chapters)?.thumbs(&places))
            }
            Ask::Shop(plan, chapters) => {
                self.book(&plan, &chapters)?;
                match (&self.checks.built, &self.book) {
                    (Some((_, built)), Some((_, book))) => Answer::Shop(shop(built, book)),
                    _ => return Err("The parts could not be listed.".into()),
                }
            }
            Ask::ShopSheets(plan, chapters, part) => {
                Answer::ShopSheets(shop_sheets(self.book(&plan, &chapters)?, &part))
            }
            Ask::Find(plan, chapters, words) => Answer::Found(self.book(&plan, &chapters)?.find(&words)),
            Ask::Pdf(plan, chapters) => Answer::Pdf(self.book(&plan, &chapters)?.pdf()?),
            Ask::Editions(asked) => {
                let (told, bytes) = asked.answer(&mut self.editions)?;
                Answer::Editions(told, bytes)
            }
            Ask::Unpack(bytes) => {
                let (plan, remarks) = open(&bytes).map_err(|found| first(&found))?;
                Answer::Unpacked(plan.to_json(), remarks.into_iter().map(|one| one.sentence).collect())
            }
            Ask::Fonts => {
                let (list, files) = font_files();
                Answer::Fonts(list, files)
            }
            Ask::Picture(caption, bytes) => {
                Picture::new(&bytes, caption).map_err(|why| why.sentence)?;
                Answer::Picture(bytes)
            }
            light => self.checks.done(light)?,
        })
    }

    fn book(&mut self, plan: &str, chapters: &str) -> Result<&Book, String> {
        if self.book.as_ref().is_none_or(|(of, _)| of.0 != plan || of.1 != chapters) {
            let book = self.checks.built_from(plan, whole)?.book(chapters)?;
            self.book = Some(((plan.to_string(), chapters.to_string()), book));
        }
        self.book.as_ref().map(|(_, book)| book).ok_or_else(String::new)
    }
}

/// A plan whose pictures are not looked at: checks need none.
fn known(text: &str) -> Result<Plan, String> {
    Plan::parse_known(text.as_bytes()).map(|(plan, _)| plan).map_err(|found| first(&found))
}

/// A plan whose pictures will be printed.
fn whole(text: &str) -> Result<Plan, String> {
    Plan::parse(text.as_bytes()).map(|(plan, _)| plan).map_err(|found| first(&found))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::form::WHOLE;

    fn plan() -> String {
        Plan::default_metric().to_json()
    }

    #[test]
    fn the_usual_plan_is_worked_out() {
        let Answer::Built(found) = Bench::default().answer(Ask::Build(plan())) else { panic!("not built") };
        assert!(found.number("closed.diameter").is_some_and(|n| n.text_mm.starts_with("1200")));
        assert!(!found.checks.is_empty());
        let weight = found.strength.iter().find(|f| f.id == "mass.whole.closed");
        assert!(weight.is_some_and(|f| f.value.ends_with(" kg") && f.limit.is_none()), "{weight:?}");
    }

    #[test]
    fn a_book_has_pages_and_a_file() {
        let mut bench = Bench::default();
        let Answer::Book(contents) = bench.answer(Ask::Book(plan(), WHOLE.into())) else { panic!("no book") };
        assert!(contents.pages.len() > 5);
        let Answer::Pages(pages) =
            bench.answer(Ask::Pages(plan(), WHOLE.into(), vec![0, 1, 100_000], String::new()))
        else {
            panic!("no pages")
        };
        assert_eq!(pages.len(), 2, "a page that is not there is left out");
        assert!(
            pages.iter().all(|page| page.drawing.starts_with("<svg") && !page.drawing.contains(" style="))
        );
        let Answer::Pdf(bytes) = bench.answer(Ask::Pdf(plan(), WHOLE.into())) else { panic!("no file") };
        assert!(bytes.starts_with(b"%PDF-"));
        let Answer::Book(shop) = bench.answer(Ask::Book(plan(), "shop".into())) else { panic!("no book") };
        assert!(shop.pages.len() < contents.pages.len());
        assert!(
            matches!(bench.answer(Ask::Book(plan(), "recipes".into())), Answer::Failed(why) if why.contains("recipes"))
        );
    }

    #[test]
    fn a_sheet_drawn_early_is_the_one_that_the_newer_book_has() {
        let mut bench = Bench::default();
        let newer = {
            let mut plan = Plan::default_metric();
            plan.set("closed_diameter", "1210 mm").unwrap();
            plan.to_json()
        };
        let early = |places: Vec<usize>| Ask::Early(newer.clone(), places, String::new());
        assert_eq!(bench.answer(early(vec![0])), Answer::Early(Vec::new()), "no book was made yet");
        let Answer::Book(contents) = bench.answer(Ask::Book(plan(), WHOLE.into())) else { panic!("no book") };
        let sheets: Vec<usize> = (0..contents.pages.len())
            .filter(|place| contents.pages[*place].marks.iter().any(|mark| mark.starts_with("sheet/")))
            .collect();
        // The cover and some sheets from everywhere.
        let places: Vec<usize> = std::iter::once(0).chain(sheets.into_iter().step_by(5)).collect();
        let Answer::Early(found) = bench.answer(early(places.clone())) else { panic!("nothing early") };
        let pages = |plan: &str, bench: &mut Bench| match bench.answer(Ask::Pages(
            plan.into(),
            WHOLE.into(),
            places.clone(),
            String::new(),
        )) {
            Answer::Pages(pages) => pages,
            _ => panic!("no pages"),
        };
        let (was, is) = (pages(&plan(), &mut bench), pages(&newer, &mut bench));
        assert_eq!(found[0], None, "the cover has to wait for the book");
        // Drawings of the whole table have to wait as well.
        let early: Vec<_> =
            found.iter().zip(was.iter().zip(&is)).filter_map(|(e, w)| Some((e.as_ref()?, w))).collect();
        assert!(early.len() > 4 && early.iter().any(|(_, (was, is))| was != is), "{} sheets", early.len());
        for (early, (_, is)) in early {
            assert_eq!(early, is);
        }
    }

    #[test]
    fn words_are_found_and_marked_and_printed_figures_lead_back() {
        let mut bench = Bench::default();
        let find = |words: &str| Ask::Find(plan(), WHOLE.into(), words.into());
        let Answer::Found(found) = bench.answer(find("PANEL")) else { panic!("not looked for") };
        assert!(found.len() > 3 && found.iter().all(|(_, count)| *count > 0));
        assert_eq!(bench.answer(find("no such words anywhere")), Answer::Found(Vec::new()));
        let all: Vec<usize> = found.iter().map(|(place, _)| *place).collect();
        let Answer::Pages(pages) = bench.answer(Ask::Pages(plan(), WHOLE.into(), all, "panel".into())) else {
            panic!("no pages")
        };
        for (page, (_, count)) in pages.iter().zip(&found) {
            assert!(page.drawing.contains(&format!("data-id=\"hit/{}\"", count - 1)));
            assert!(!page.drawing.contains(&format!("data-id=\"hit/{count}\"")));
        }
        let sourced: Vec<_> = pages.iter().flat_map(|page| &page.sourced).collect();
        assert!(
            sourced.iter().any(|one| one.origin == "size/height" && one.said.contains("740")),
            "{sourced:?}"
        );
        assert!(sourced.iter().any(|one| one.origin.starts_with("solved/")));
    }

    #[test]
    fn a_card_gets_its_picture_closed_and_open() {
        let Answer::Glimpse(Some(seen)) = Bench::default().answer(Ask::Glimpse(plan())) else {
            panic!("no picture")
        };
        // Six panels on top when closed; panels, leaves and star when open.
        assert_eq!((seen.closed.len(), seen.open.len()), (13, 13));
        assert!(seen.open_radius > 824.0 && seen.open_radius < 826.0, "1650 / 2: {}", seen.open_radius);
    }

    #[test]
    fn the_shop_view_has_every_part_with_its_readings_and_every_step() {
        let mut bench = Bench::default();
        let Answer::Shop(found) = bench.answer(Ask::Shop(plan(), WHOLE.into())) else { panic!("no parts") };
        let panel = found.parts.iter().find(|part| part.id == "panel").expect("there are panels");
        assert_eq!((panel.count, found.parts.iter().filter(|part| part.id == "panel").count()), (6, 1));
        let sheets = Ask::ShopSheets(plan(), WHOLE.into(), "panel-arm".into());
        let Answer::ShopSheets(sheets) = bench.answer(sheets) else { panic!("no sheets") };
        let readings: Vec<_> = sheets.iter().flat_map(|sheet| &sheet.readings).collect();
        let width =
            readings.iter().find(|one| one.id == "panel-arm/dim/width").expect("the width is read out");
        assert!(width.said.contains("20") && width.what == "width", "{width:?}");
        for sheet in &sheets {
            assert!(
                sheet.readings.iter().all(|one| sheet.drawing.contains(&format!("data-id=\"{}\"", one.id)))
            );
            assert!(!sheet.drawing.contains("title-block") && !sheet.drawing.contains(" style="));
        }
        let Answer::Built(built) = bench.answer(Ask::Build(plan())) else { panic!("not built") };
        assert_eq!(found.steps.len(), built.steps.iter().filter(|step| step.number.is_some()).count());
        assert!(found.steps.iter().any(|step| step.figure.is_some()));
    }

    #[test]
    fn rubbish_is_answered_with_a_sentence() {
        for ask in
            [Ask::Build("{".into()), Ask::Book("{".into(), WHOLE.into()), Ask::Pdf("{".into(), WHOLE.into())]
        {
            let Answer::Failed(sentence) = Bench::default().answer(ask) else { panic!("made of rubbish") };
            assert!(sentence.ends_with('.'), "{sentence}");
        }
    }

    #[test]
    fn each_room_answers_its_own_questions_and_no_other() {
        let mut checks = Checks::default();
        let asks = [
            Ask::Build(plan()),
            Ask::Limits(plan(), "height".into()),
            Ask::Glimpse(plan()),
            Ask::Book(plan(), WHOLE.into()),
            Ask::Fonts,
        ];
        for ask in asks {
            let light = ask.room() == Room::Checks;
            let name = ask.name();
            let lost = matches!(checks.answer(ask), Answer::Failed(why) if why.contains("wrong room"));
            assert_eq!(lost, !light, "{name}");
        }
    }

    #[test]
    fn a_saved_book_gives_its_plan_back_and_the_fonts_are_whole() {
        let mut bench = Bench::default();
        let Answer::Pdf(bytes) = bench.answer(Ask::Pdf(plan(), WHOLE.into())) else { panic!("no file") };
        let Answer::Unpacked(text, _) = bench.answer(Ask::Unpack(bytes)) else { panic!("no plan") };
        assert_eq!(text, plan());
        assert!(
            matches!(bench.answer(Ask::Unpack(b"%PDF-1.7".to_vec())), Answer::Failed(why) if why.ends_with('.'))
        );
        let Answer::Fonts(list, bytes) = bench.answer(Ask::Fonts) else { panic!("no fonts") };
        assert_eq!(list.iter().map(|one| one.length).sum::<usize>(), bytes.len());
        // A TrueType file begins with 0x00010000, an OpenType file with "OTTO" (OpenType 1.9, "Organization of an OpenType Font").
        let mut from = 0;
        for font in list {
            let head = &bytes[from..from + 4];
            assert!(head == [0, 1, 0, 0] || head == b"OTTO", "{}", font.family);
            from += font.length;
        }
    }

    #[test]
    fn answers_cross_to_another_thread_unchanged() {
        let answer = Bench::default().answer(Ask::Build(plan()));
        let text = serde_json::to_string(&answer).unwrap();
        assert_eq!(serde_json::from_str::<Answer>(&text).unwrap(), answer);
    }

    #[test]
    fn a_newer_question_outdates_an_older_of_its_kind_but_files_are_always_made() {
        assert!(Ask::Build("b".into()).outdates(&Ask::Build("a".into())));
        assert!(!Ask::Build("b".into()).outdates(&Ask::Book("a".into(), WHOLE.into())));
        assert!(!Ask::Pdf("b".into(), WHOLE.into()).outdates(&Ask::Pdf("a".into(), WHOLE.into())));
    }
}
