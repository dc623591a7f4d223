//! The database where there is none: outside a browser, for native tests of everything beside it.
//!
//! In: anything. Out: always that there is none.
//! Always true: it has the shape of the browser's own.

use super::archive::{Fault, Put};
use crate::shelf::{Aside, Card};

/// Never made.
#[derive(Debug)]
pub enum Db {}

impl Db {
    /// There is none.
    pub async fn open() -> Result<Db, Fault> {
        Err(Fault::Blocked)
    }
    /// Never called.
    pub async fn cards(&self) -> Result<Vec<Card>, Fault> {
        match *self {}
    }
    /// Never called.
    pub async fn get(&self, _: &str) -> Result<Option<(Card, String)>, Fault> {
        match *self {}
    }
    /// Never called.
    pub async fn put(&self, _: &[(Card, String, Option<String>)]) -> Result<Put, Fault> {
        match *self {}
    }
    /// Never called.
    pub async fn remove(&self, _: &str) -> Result<(), Fault> {
        match *self {}
    }
    /// Never called.
    pub async fn list(&self, _: &str) -> Result<Option<String>, Fault> {
        match *self {}
    }
    /// Never called.
    pub async fn put_list(&self, _: &str, _: Option<&str>, _: Option<&str>) -> Result<Put, Fault> {
        match *self {}
    }
    /// Never called.
    pub async fn asides(&self) -> Result<Vec<Aside>, Fault> {
        match *self {}
    }
    /// Never called.
    pub async fn put_aside(&self, _: &Aside) -> Result<(), Fault> {
        match *self {}
    }
    /// Never called.
    pub async fn drop_aside(&self, _: &str) -> Result<(), Fault> {
        match *self {}
    }
}
