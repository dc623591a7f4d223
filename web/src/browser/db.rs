//! The browser's database of plans.
//!
//! In: cards with the work behind them. Out: the same at the next visit, in every tab.
//! Always true: a plan is written only over the text the writer knows (by its stamp), card and work together or
//! neither, and many plans all or none; every refusal of the browser is an error, never a panic.

use super::archive::{Fault, Put};
use crate::shelf::{Aside, Card};
use idb::{
    Database, DatabaseEvent as _, Factory, ObjectStore, ObjectStoreParams, Transaction, TransactionMode,
    TransactionResult,
};
use wasm_bindgen::JsValue;

/// Name and version of the database.
const NAME: &str = "turnleaf";
const VERSION: u32 = 1;
/// Its stores: works by identifier, cards by identifier, what could not be read.
const PLANS: &str = "plans";
const CARDS: &str = "cards";
const ASIDE: &str = "aside";

/// The open database.
#[derive(Debug)]
pub struct Db(Database);

impl From<idb::Error> for Fault {
    fn from(error: idb::Error) -> Fault {
        let said = error.to_string();
        if said.contains("Quota") || said.contains("quota") { Fault::Full } else { Fault::Broken(said) }
    }
}

impl Db {
    /// Opens it, and makes it at the first visit.
    pub async fn open() -> Result<Db, Fault> {
        let mut asked = Factory::new()?.open(NAME, Some(VERSION))?;
        asked.on_upgrade_needed(|event| {
            let Ok(database) = event.database() else { return };
            for name in [PLANS, CARDS, ASIDE] {
                if !database.store_names().iter().any(|there| there == name) {
                    // A store that is missing fails every use of it, which is said then.
                    let _ = database.create_object_store(name, ObjectStoreParams::new());
                }
            }
        });
        let mut database = asked.await?;
        // A newer version in another tab waits for this; the next use opens it again or says why not.
        database.on_version_change(|event| {
            if let Some(there) = event.target().and_then(|target| Database::try_from(target).ok()) {
                there.close();
            }
        });
        Ok(Db(database))
    }

    fn begin(&self, mode: TransactionMode) -> Result<Transaction, Fault> {
        Ok(self.0.transaction(&[PLANS, CARDS, ASIDE], mode)?)
    }

    /// All cards; one that cannot be read is made anew from nothing but its identifier.
    pub async fn cards(&self) -> Result<Vec<Card>, Fault> {
        let all = self.begin(TransactionMode::ReadOnly)?.object_store(CARDS)?.get_all(None, None)?.await?;
        Ok(all.iter().filter_map(|value| serde_json::from_str(&value.as_string()?).ok()).collect())
    }

    /// A card with its work.
    pub async fn get(&self, id: &str) -> Result<Option<(Card, String)>, Fault> {
        let asked = self.begin(TransactionMode::ReadOnly)?;
        let card = text(&asked.object_store(CARDS)?, id).await?;
        let body = text(&asked.object_store(PLANS)?, id).await?;
        Ok(card.and_then(|card| serde_json::from_str(&card).ok()).zip(body))
    }

    /// Writes plans over the stamps they were typed upon: all of them, or none when one was changed meanwhile.
    pub async fn put(&self, plans: &[(Card, String, Option<String>)]) -> Result<Put, Fault> {
        let asked = self.begin(TransactionMode::ReadWrite)?;
        let (cards, works) = (asked.object_store(CARDS)?, asked.object_store(PLANS)?);
        for (card, _, base) in plans {
            let there =
                text(&cards, &card.id).await?.and_then(|text| serde_json::from_str::<Card>(&text).ok());
            if there.is_some_and(|there| base.as_deref() != Some(&there.stamp)) {
                return Ok(Put::Other);
            }
        }
        for (card, body, _) in plans {
            let key = JsValue::from_str(&card.id);
            let text = serde_json::to_string(card).map_err(|error| Fault::Broken(error.to_string()))?;
            cards.put(&text.into(), Some(&key))?.await?;
            works.put(&body.into(), Some(&key))?.await?;
        }
        done(asked).await?;
        Ok(Put::Done)
    }

    /// Takes a plan away.
    pub async fn remove(&self, id: &str) -> Result<(), Fault> {
        let asked = self.begin(TransactionMode::ReadWrite)?;
        for store in [CARDS, PLANS] {
            asked.object_store(store)?.delete(JsValue::from_str(id))?.await?;
        }
        done(asked).await
    }

    /// A list of copies. It lies among the works, under a key that no plan has and earlier versions pass over.
    pub async fn list(&self, id: &str) -> Result<Option<String>, Fault> {
        text(&self.begin(TransactionMode::ReadOnly)?.object_store(PLANS)?, &list_key(id)).await
    }

    /// Writes a list of copies over the text the writer knows, or takes it away.
    pub async fn put_list(&self, id: &str, was: Option<&str>, now: Option<&str>) -> Result<Put, Fault> {
        let asked = self.begin(TransactionMode::ReadWrite)?;
        let (works, key) = (asked.object_store(PLANS)?, list_key(id));
        if text(&works, &key).await?.as_deref() != was {
            return Ok(Put::Other);
        }
        let key = JsValue::from_str(&key);
        match now {
            Some(now) => drop(works.put(&now.into(), Some(&key))?.await?),
            None => works.delete(key)?.await?,
        }
        done(asked).await?;
        Ok(Put::Done)
    }

    /// What was put aside.
    pub async fn asides(&self) -> Result<Vec<Aside>, Fault> {
        let all = self.begin(TransactionMode::ReadOnly)?.object_store(ASIDE)?.get_all(None, None)?.await?;
        Ok(all.iter().filter_map(|value| serde_json::from_str(&value.as_string()?).ok()).collect())
    }

    /// Puts something aside, and takes it from among the plans.
    pub async fn put_aside(&self, aside: &Aside) -> Result<(), Fault> {
        let asked = self.begin(TransactionMode::ReadWrite)?;
        let key = JsValue::from_str(&aside.id);
        let text = serde_json::to_string(aside).map_err(|error| Fault::Broken(error.to_string()))?;
        asked.object_store(ASIDE)?.put(&text.into(), Some(&key))?.await?;
        for store in [CARDS, PLANS] {
            asked.object_store(store)?.delete(key.clone())?.await?;
        }
        done(asked).await
    }

    /// Takes something put aside away for good.
    pub async fn drop_aside(&self, id: &str) -> Result<(), Fault> {
        let asked = self.begin(TransactionMode::ReadWrite)?;
        asked.object_store(ASIDE)?.delete(JsValue::from_str(id))?.await?;
        done(asked).await
    }
}

fn list_key(id: &str) -> String {
    format!("copies/{id}")
}

async fn text(store: &ObjectStore, id: &str) -> Result<Option<String>, Fault> {
    Ok(store.get(JsValue::from_str(id))?.await?.and_then(|value| value.as_string()))
}

/// Waits until it is written; a browser out of room stops it without an error of its own.
async fn done(asked: Transaction) -> Result<(), Fault> {
    match asked.commit()?.await? {
        TransactionResult::Committed => Ok(()),
        TransactionResult::Aborted => Err(Fault::Full),
    }
}
