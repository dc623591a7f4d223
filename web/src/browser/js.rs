//! Things of the browser that are asked for by name.
//!
//! In: names. Out: values, calls, promises waited for.
//! Always true: what a browser lacks is none or an error, never a panic. The bindings for these are unstable, or
//! would cost more than they are used for.

use js_sys::{Array, Function, Promise, Reflect};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

/// A property that is there.
pub fn get(of: &JsValue, key: &str) -> Option<JsValue> {
    Reflect::get(of, &key.into()).ok().filter(|value| !value.is_undefined() && !value.is_null())
}

/// A property of the page's or worker's own scope.
pub fn global(key: &str) -> Option<JsValue> {
    get(&js_sys::global(), key)
}

/// A path of properties such as `["navigator", "locks"]`.
pub fn path(keys: &[&str]) -> Option<JsValue> {
    keys.iter().try_fold(JsValue::from(js_sys::global()), |of, key| get(&of, key))
}

/// Sets a property; a browser that refuses keeps its own.
pub fn set(of: &JsValue, key: &str, value: &JsValue) {
    let _ = Reflect::set(of, &key.into(), value);
}

/// Calls a method.
pub fn call(of: &JsValue, method: &str, with: &[&JsValue]) -> Result<JsValue, JsValue> {
    let function: Function = get(of, method)
        .and_then(|found| found.dyn_into().ok())
        .ok_or_else(|| JsValue::from_str("this browser lacks it"))?;
    let list: Array = with.iter().copied().collect();
    function.apply(of, &list)
}

/// Waits for a promise, or takes a plain value.
pub async fn wait(value: JsValue) -> Result<JsValue, JsValue> {
    JsFuture::from(Promise::resolve(&value)).await
}

/// Waits so many milliseconds.
pub async fn sleep(ms: u32) {
    let later = Promise::new(&mut |done, _| {
        if call(&js_sys::global(), "setTimeout", &[&done, &ms.into()]).is_err() {
            let _ = done.call0(&JsValue::NULL);
        }
    });
    let _ = JsFuture::from(later).await;
}

/// Milliseconds since 1970 by the browser's clock, for dates that are shown and never for an order.
pub fn now() -> f64 {
    js_sys::Date::now()
}

/// A word that nobody else has: the time and a bit of chance.
pub fn fresh() -> String {
    let chance = (js_sys::Math::random() * f64::from(u32::MAX)) as u32;
    format!("{}-{}", base36(now().max(0.0) as u64), base36(u64::from(chance)))
}

fn base36(mut number: u64) -> String {
    const DIGITS: &[u8; 36] = b"0123456789abcdefghijklmnopqrstuvwxyz";
    let mut out = Vec::new();
    loop {
        out.push(DIGITS[(number % 36) as usize]);
        number /= 36;
        if number == 0 {
            break;
        }
    }
    out.iter().rev().map(|digit| char::from(*digit)).collect()
}

#[cfg(test)]
mod tests {
    use super::base36;

    #[test]
    fn numbers_are_written_short() {
        // By hand: 36² + 36 + 35 = 1367.
        assert_eq!([base36(0), base36(35), base36(36), base36(1367)], ["0", "z", "10", "11z"]);
    }
}
