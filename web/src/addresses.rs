//! Addresses that a plan may be fetched from.
//!
//! In: what was typed, or what stands behind `#` in the page's address. Out: an [`Address`], or a sentence.
//! Always true: only http and https; no user name or password inside; what is shown of an address is its host and
//! the rest as it will be asked for. Nothing here touches the browser.

/// An address to fetch from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Address {
    /// The whole.
    pub whole: String,
    /// Who will be asked.
    pub host: String,
    /// Whether it is asked in the open, without https.
    pub open: bool,
}

/// Longest address taken.
const LONGEST: usize = 2000;

/// What `#open=` in a page's address asks for, if it asks for anything.
pub fn asked_for(fragment: &str) -> Option<&str> {
    let text = fragment.trim_start_matches('#').strip_prefix("open=")?;
    (!text.trim().is_empty()).then_some(text)
}

/// Reads an address.
pub fn read(text: &str) -> Result<Address, String> {
    let text = text.trim();
    if text.chars().count() > LONGEST {
        return Err(format!("This address has more than {LONGEST} characters; no plan lies that far."));
    }
    if text.chars().any(|c| c.is_whitespace() || c.is_control() || "<>\"\\^`{|}".contains(c)) {
        return Err("This address holds a character that no address has; copy it again, whole.".into());
    }
    let lower = text.get(..8).unwrap_or(text).to_ascii_lowercase();
    let (rest, open) = if lower.starts_with("https://") {
        (&text[8..], false)
    } else if lower.starts_with("http://") {
        (&text[7..], true)
    } else {
        return Err("A plan can only be fetched from an address that begins with https:// or http://.".into());
    };
    let end = rest.find(['/', '?', '#']).unwrap_or(rest.len());
    let host = &rest[..end];
    if host.contains('@') {
        return Err("This address has a user name in it; give one without.".into());
    }
    let name = host
        .rsplit_once(':')
        .map_or(host, |(name, port)| if port.chars().all(|c| c.is_ascii_digit()) { name } else { host });
    let fine = |c: char| c.is_ascii_alphanumeric() || "-.[]:".contains(c);
    if name.is_empty() || !host.chars().all(fine) {
        return Err("The address names no place that could be asked; copy it again, whole.".into());
    }
    Ok(Address { whole: text.to_string(), host: host.to_string(), open })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_addresses_are_taken() {
        let address = read(" https://plans.example.org/rr-06.json?v=C ").unwrap();
        assert_eq!((address.host.as_str(), address.open), ("plans.example.org", false));
        assert!(address.whole.ends_with("?v=C"));
        let address = read("HTTP://127.0.0.1:8080/p.pdf").unwrap();
        assert_eq!((address.host.as_str(), address.open), ("127.0.0.1:8080", true));
        assert!(read("https://[::1]:8080/p").is_ok());
    }

    #[test]
    fn all_else_is_refused_with_a_sentence() {
        let long = format!("https://example.org/{}", "x".repeat(2000));
        for text in [
            "javascript:alert(1)",
            "data:application/json,{}",
            "file:///etc/passwd",
            "ftp://example.org/p",
            "https:example.org",
            "https://",
            "https:///p",
            "http://:80/",
            "https://a@b.example/",
            "https://example.org\\@evil.example/",
            "https://exa mple.org/",
            "https://ex\u{0}ample.org/",
            "https://exampl\u{202e}e.org/",
            "blob:https://example.org/1",
            "",
            &long,
        ] {
            let sentence = read(text).unwrap_err();
            assert!(sentence.ends_with('.'), "{text}: {sentence}");
        }
    }

    #[test]
    fn a_fragment_asks_only_by_its_own_word() {
        assert_eq!(asked_for("#open=https://example.org/p"), Some("https://example.org/p"));
        assert_eq!(asked_for("#sizes"), None);
        assert_eq!(asked_for("#open="), None);
        assert_eq!(asked_for(""), None);
    }
}
