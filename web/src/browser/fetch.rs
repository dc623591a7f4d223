//! A file from an address.
//!
//! In: an address that was agreed to. Out: its bytes and the address they came from in the end, or a sentence.
//! Always true: nothing that identifies the visitor goes along (no cookies, no referrer); reading stops at the
//! limit whatever length was promised; it can be given up at any moment.

use js_sys::{Reflect, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    AbortController, ReadableStreamDefaultReader, ReferrerPolicy, Request, RequestCredentials, RequestInit,
    RequestMode, Response,
};

/// What was fetched.
pub struct Fetched {
    /// The file.
    pub bytes: Vec<u8>,
    /// Where it lay in the end: addresses may lead on to others.
    pub from: String,
}

/// Gives up a fetch under way.
#[derive(Clone)]
pub struct Stop(AbortController);

impl Stop {
    /// For a fetch to come; none in a browser too old for it.
    pub fn new() -> Option<Stop> {
        AbortController::new().ok().map(Stop)
    }
    /// Gives it up.
    pub fn now(&self) {
        self.0.abort();
    }
}

/// Fetches a file of at most so many bytes.
pub async fn fetch(address: &str, host: &str, most: usize, stop: &Stop) -> Result<Fetched, String> {
    let unreached = |_: JsValue| {
        format!(
            "{host} did not answer, or does not let other pages read its files. Download the file there and open it here, or ask whoever keeps it."
        )
    };
    let too_large =
        || format!("The file at {host} has more than {} MB; no plan or book has.", most / 1_000_000);
    let init = RequestInit::new();
    init.set_mode(RequestMode::Cors);
    init.set_credentials(RequestCredentials::Omit);
    init.set_referrer_policy(ReferrerPolicy::NoReferrer);
    init.set_signal(Some(&stop.0.signal()));
    let request = Request::new_with_str_and_init(address, &init)
        .map_err(|_| "This address cannot be asked; copy it again, whole.".to_string())?;
    let window = web_sys::window().ok_or_else(|| "There is no window to fetch with.".to_string())?;
    let answer = JsFuture::from(window.fetch_with_request(&request)).await.map_err(unreached)?;
    let answer: Response = answer.dyn_into().map_err(unreached)?;
    if !answer.ok() {
        return Err(format!("{host} says that there is no such file (answer {}).", answer.status()));
    }
    let promised = answer.headers().get("content-length").ok().flatten().and_then(|l| l.parse::<u64>().ok());
    if promised.is_some_and(|length| length > most as u64) {
        stop.now();
        return Err(too_large());
    }
    let mut bytes = Vec::new();
    if let Some(body) = answer.body() {
        let reader: ReadableStreamDefaultReader =
            body.get_reader().dyn_into().map_err(|_| unreached(JsValue::NULL))?;
        loop {
            let piece = JsFuture::from(reader.read()).await.map_err(unreached)?;
            let done = Reflect::get(&piece, &"done".into()).map_err(unreached)?.is_truthy();
            if done {
                break;
            }
            let piece: Uint8Array =
                Reflect::get(&piece, &"value".into()).map_err(unreached)?.dyn_into().map_err(unreached)?;
            if bytes.len() + piece.length() as usize > most {
                stop.now();
                return Err(too_large());
            }
            let at = bytes.len();
            bytes.resize(at + piece.length() as usize, 0);
            piece.copy_to(&mut bytes[at..]);
        }
    }
    Ok(Fetched { bytes, from: answer.url() })
}
