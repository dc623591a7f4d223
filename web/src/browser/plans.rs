//! Plans in files of either kind.
//!
//! In: the bytes of a plan file, or of a book saved with its plan inside. Out: the plan and what is to be said of it, or
//! one sentence.
//! Always true: a plan file without pictures is read on the page; books, and plans with pictures, go to the program of
//! books first, which alone can take a book apart and decode pictures.

use super::backroom;
use crate::bench::{Answer, Ask};
use crate::core::{Plan, is_pdf};
use crate::kept::first;
use futures_channel::oneshot;

/// Reads a plan.
pub async fn read(bytes: Vec<u8>) -> Result<(Plan, Vec<String>), String> {
    if !is_pdf(&bytes) {
        let found = parsed(&bytes)?;
        if !found.0.has_pictures() {
            return Ok(found);
        }
    }
    let (tell, told) = oneshot::channel();
    backroom::ask(Ask::Unpack(bytes), move |answer| {
        // Whoever asked may be gone.
        let _ = tell.send(answer);
    });
    match told.await {
        Ok(Answer::Unpacked(text, mut said)) => {
            let (plan, more) = parsed(text.as_bytes())?;
            said.extend(more.into_iter().filter(|one| !said.contains(one)).collect::<Vec<_>>());
            Ok((plan, said))
        }
        Ok(Answer::Failed(sentence)) => Err(sentence),
        // An answer of another kind is a fault of ours.
        _ => Err("The book could not be taken apart; open the plan file instead.".into()),
    }
}

fn parsed(bytes: &[u8]) -> Result<(Plan, Vec<String>), String> {
    let (plan, remarks) = Plan::parse_known(bytes).map_err(|found| first(&found))?;
    Ok((plan, remarks.into_iter().map(|remark| remark.sentence).collect()))
}
