//! Where plans are kept: the browser's database, or what there is in its place.
//!
//! In: cards with the work behind them. Out: the same at the next visit, or why not.
//! Always true: where the database is refused the small storage is used, and what was put there moves into the
//! database at the first visit that has one; what neither takes is held as long as the page lives.

use super::{js, store};
use crate::shelf::{Aside, Card};
use std::cell::RefCell;
use std::rc::Rc;

#[cfg(target_arch = "wasm32")]
use super::db::Db;
#[cfg(not(target_arch = "wasm32"))]
use super::db_none::Db;

/// Where cards, works and what was put aside lie in the small storage: the identifier goes behind.
const CARD: &str = "turnleaf/card/";
const PLAN: &str = "turnleaf/plan/";
const ASIDE: &str = "turnleaf/aside/";
const LIST: &str = "turnleaf/copies/";

/// How a writing went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Put {
    /// It is kept.
    Done,
    /// Nothing was written, since another tab has written there meanwhile.
    Other,
}

/// Why nothing was kept or read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// There is no room left.
    Full,
    /// The browser allows no storage.
    Blocked,
    /// Something else, in the browser's words.
    Broken(String),
}

impl Fault {
    /// The reason as part of a sentence.
    pub fn words(&self) -> String {
        match self {
            Fault::Full => "the browser has no room left for this page".into(),
            Fault::Blocked => "this browser allows no storage for the page".into(),
            Fault::Broken(why) => format!("the browser's storage gave an error ({why})"),
        }
    }
}

impl From<store::Full> for Fault {
    fn from(full: store::Full) -> Fault {
        match full {
            store::Full::Blocked => Fault::Blocked,
            store::Full::Full => Fault::Full,
        }
    }
}

/// A list of copies that is held: its plan, what is kept of its list, the list.
type HeldList = (String, Option<String>, Option<String>);

thread_local! {
    static DB: RefCell<Option<Rc<Db>>> = const { RefCell::new(None) };
    /// What nothing else would take; lives as long as the page.
    static HELD: RefCell<Vec<(Card, String)>> = const { RefCell::new(Vec::new()) };
    /// Lists of copies that nothing else would take.
    static LISTS: RefCell<Vec<HeldList>> = const { RefCell::new(Vec::new()) };
}

/// Opens the database if there is one; what lies in the small storage moves into it.
pub async fn open() {
    let Ok(db) = Db::open().await else { return };
    DB.with(|place| *place.borrow_mut() = Some(Rc::new(db)));
    for card in small_cards() {
        let (Some(body), Some(db)) = (store::get(&format!("{PLAN}{}", card.id)), database()) else {
            continue;
        };
        let mut moved = db.put(&[(card.clone(), body.clone(), None)]).await;
        if moved == Ok(Put::Other) {
            // The database knows another text of this plan: both stay.
            let note = "kept while the browser's database was closed".to_string();
            moved = db
                .put(&[(Card { id: format!("p-{}", js::fresh()), note, ..card.clone() }, body, None)])
                .await;
        }
        if moved == Ok(Put::Done) {
            small_remove(&card.id);
        }
    }
    for key in store::keys(LIST) {
        let (Some(text), Some(db)) = (store::get(&key), database()) else { continue };
        let id = &key[LIST.len()..];
        let moved = match db.put_list(id, None, Some(&text)).await {
            // The database knows another list of this plan: this one stays beside it.
            Ok(Put::Other) => {
                let why = "a list of copies kept while the browser's database was closed".to_string();
                db.put_aside(&Aside { id: format!("a-{}", js::fresh()), why, text }).await.is_ok()
            }
            moved => moved.is_ok(),
        };
        if moved {
            store::remove(&key);
        }
    }
    for aside in small_asides() {
        if let Some(db) = database()
            && db.put_aside(&aside).await.is_ok()
        {
            store::remove(&format!("{ASIDE}{}", aside.id));
        }
    }
}

fn database() -> Option<Rc<Db>> {
    DB.with(|place| place.borrow().clone())
}

/// Opens a database that was closed meanwhile, as browsers do when short of memory.
async fn reopened() -> Option<Rc<Db>> {
    let db = Rc::new(Db::open().await.ok()?);
    DB.with(|place| *place.borrow_mut() = Some(db.clone()));
    Some(db)
}

/// Asks the database, once more where it was closed meanwhile; none where there is none.
async fn asked<T>(ask: impl AsyncFn(&Db) -> Result<T, Fault>) -> Option<Result<T, Fault>> {
    let db = database()?;
    Some(match ask(&db).await {
        Err(Fault::Broken(why)) => match reopened().await {
            Some(db) => ask(&db).await,
            None => Err(Fault::Broken(why)),
        },
        done => done,
    })
}

/// All cards there are.
pub async fn cards() -> Vec<Card> {
    let mut all = small_cards();
    for card in asked(async |db| db.cards().await).await.and_then(Result::ok).unwrap_or_default() {
        if !all.iter().any(|there| there.id == card.id) {
            all.push(card);
        }
    }
    HELD.with(|held| {
        for (card, _) in held.borrow().iter() {
            all.retain(|there| there.id != card.id);
            all.push(card.clone());
        }
    });
    all.sort_by(|a, b| b.order.cmp(&a.order).then(b.changed.total_cmp(&a.changed)).then(a.id.cmp(&b.id)));
    all
}

/// A card with its work.
pub async fn get(id: &str) -> Option<(Card, String)> {
    let held = HELD.with(|held| held.borrow().iter().find(|(card, _)| card.id == id).cloned());
    if held.is_some() {
        return held;
    }
    let small = || {
        let card = serde_json::from_str(&store::get(&format!("{CARD}{id}"))?).ok()?;
        Some((card, store::get(&format!("{PLAN}{id}"))?))
    };
    if let Some(found) = small() {
        return Some(found);
    }
    asked(async |db| db.get(id).await).await?.ok().flatten()
}

/// Writes one plan over the stamp it was typed upon.
pub async fn put(card: &Card, body: &str, base: Option<&str>) -> Result<Put, Fault> {
    put_all(&[(card.clone(), body.to_string(), base.map(str::to_string))]).await
}

/// Writes plans over the stamps they were typed upon: all of them or none.
pub async fn put_all(plans: &[(Card, String, Option<String>)]) -> Result<Put, Fault> {
    let done = match asked(async |db| db.put(plans).await).await {
        None | Some(Err(Fault::Broken(_))) => small_put(plans),
        Some(done) => done,
    };
    if done == Ok(Put::Done) {
        HELD.with(|held| {
            held.borrow_mut().retain(|(card, _)| !plans.iter().any(|(new, ..)| new.id == card.id))
        });
    }
    done
}

/// Holds a plan that could not be kept, so that going elsewhere in the app does not lose it.
pub fn hold(card: Card, body: String) {
    HELD.with(|held| {
        let mut held = held.borrow_mut();
        held.retain(|(there, _)| there.id != card.id);
        held.push((card, body));
    });
}

/// Whether a plan is held that is kept nowhere.
pub fn holds(id: &str) -> bool {
    HELD.with(|held| held.borrow().iter().any(|(card, _)| card.id == id))
}

/// Whether something is held that is kept nowhere.
pub fn holds_any() -> bool {
    HELD.with(|held| !held.borrow().is_empty()) || LISTS.with(|held| !held.borrow().is_empty())
}

/// The list of copies of a plan.
pub async fn list(id: &str) -> Option<String> {
    let held = LISTS.with(|held| held.borrow().iter().find(|one| one.0 == id).map(|one| one.2.clone()));
    if let Some(held) = held {
        return held;
    }
    match asked(async |db| db.list(id).await).await {
        Some(Ok(found)) => found,
        _ => store::get(&format!("{LIST}{id}")),
    }
}

/// Writes a plan's list of copies over the text the writer knows, or takes it away. What nothing takes is held as long as
/// the page lives.
pub async fn put_list(id: &str, was: Option<&str>, now: Option<&str>) -> Result<Put, Fault> {
    // What is held was never written: the writing goes over what lies below it.
    let held = LISTS.with(|held| {
        let mut held = held.borrow_mut();
        let at = held.iter().position(|one| one.0 == id)?;
        Some(held.swap_remove(at).1)
    });
    let was = held.unwrap_or_else(|| was.map(str::to_string));
    let done = match asked(async |db| db.put_list(id, was.as_deref(), now).await).await {
        None | Some(Err(Fault::Broken(_))) => small_list(id, was.as_deref(), now),
        Some(done) => done,
    };
    if done.is_err() {
        LISTS.with(|held| held.borrow_mut().push((id.into(), was, now.map(str::to_string))));
    }
    done
}

fn small_list(id: &str, was: Option<&str>, now: Option<&str>) -> Result<Put, Fault> {
    let key = format!("{LIST}{id}");
    if store::get(&key).as_deref() != was {
        return Ok(Put::Other);
    }
    match now {
        Some(now) => store::put(&key, now)?,
        None => store::remove(&key),
    }
    Ok(Put::Done)
}

/// Takes a plan away.
pub async fn remove(id: &str) -> Result<(), Fault> {
    HELD.with(|held| held.borrow_mut().retain(|(card, _)| card.id != id));
    small_remove(id);
    asked(async |db| db.remove(id).await).await.unwrap_or(Ok(()))
}

/// What was put aside.
pub async fn asides() -> Vec<Aside> {
    let mut all = small_asides();
    all.extend(asked(async |db| db.asides().await).await.and_then(Result::ok).unwrap_or_default());
    all
}

/// Puts something aside, and takes it from among the plans.
pub async fn put_aside(aside: &Aside) -> Result<(), Fault> {
    match asked(async |db| db.put_aside(aside).await).await {
        Some(done) => done,
        None => {
            let text = serde_json::to_string(aside).map_err(|error| Fault::Broken(error.to_string()))?;
            store::put(&format!("{ASIDE}{}", aside.id), &text)?;
            small_remove(&aside.id);
            Ok(())
        }
    }
}

/// Takes something put aside away for good.
pub async fn drop_aside(id: &str) {
    store::remove(&format!("{ASIDE}{id}"));
    // What stays is shown again, and can be taken away again.
    let _ = asked(async |db| db.drop_aside(id).await).await;
}

fn small_cards() -> Vec<Card> {
    store::keys(CARD).iter().filter_map(|key| serde_json::from_str(&store::get(key)?).ok()).collect()
}

fn small_asides() -> Vec<Aside> {
    store::keys(ASIDE).iter().filter_map(|key| serde_json::from_str(&store::get(key)?).ok()).collect()
}

fn small_remove(id: &str) {
    store::remove(&format!("{CARD}{id}"));
    store::remove(&format!("{PLAN}{id}"));
}

/// One thread writes here at a time, so what is read first still holds when it is written.
fn small_put(plans: &[(Card, String, Option<String>)]) -> Result<Put, Fault> {
    for (card, _, base) in plans {
        let there =
            store::get(&format!("{CARD}{}", card.id)).and_then(|t| serde_json::from_str::<Card>(&t).ok());
        if there.is_some_and(|there| base.as_deref() != Some(&there.stamp)) {
            return Ok(Put::Other);
        }
    }
    for (card, body, _) in plans {
        let text = serde_json::to_string(card).map_err(|error| Fault::Broken(error.to_string()))?;
        let kept = store::put(&format!("{PLAN}{}", card.id), body)
            .and_then(|()| store::put(&format!("{CARD}{}", card.id), &text));
        if let Err(full) = kept {
            // Plans that are new with this writing go again, so that it is all or none.
            for (new, _, base) in plans {
                if base.is_none() {
                    small_remove(&new.id);
                }
            }
            return Err(full.into());
        }
    }
    Ok(Put::Done)
}
