//! The mail that tells of a revision everybody whose copy is older.
//!
//! In: what was issued, copies. Out: letters as plain text, and as links for a mail program.
//! Always true: the same text wherever it is made; every cell is put on one line, so that nobody's name becomes a line
//! of a letter's head; a link holds no more than address, subject and text.

use crate::list::Copy;

/// Longest link that mail programs on all systems take, in bytes: common practice, no source.
const LINK_MAX: usize = 2000;

/// An issued revision as letters tell of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PastMark {
    /// Its mark.
    pub mark: String,
    /// Its day.
    pub date: String,
    /// What it changed.
    pub what: String,
}

/// Whether a copy of revision `has` is older than `mark`, of marks in the order in which they were issued. A mark that
/// the plan does not know is older than any it does, but for the one under work.
pub fn older(issued: &[&str], working: &str, has: &str, mark: &str) -> bool {
    let place = |mark: &str| issued.iter().rposition(|m| *m == mark);
    let has = has.trim();
    match (place(has), place(mark)) {
        (None, _) => has != working,
        (Some(has), Some(at)) => has < at,
        (Some(_), None) => false,
    }
}

/// What is told.
#[derive(Clone, Debug)]
pub struct News<'a> {
    /// Title of the plan.
    pub title: &'a str,
    /// Everything issued, in order.
    pub issued: &'a [PastMark],
    /// The mark under work, not issued yet.
    pub working: &'a str,
    /// The revision told of; one of those issued.
    pub mark: &'a str,
    /// Where it can be fetched from, if anywhere.
    pub link: Option<&'a str>,
}

/// A letter.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mail {
    /// Who gets it, as the register has it.
    pub to: String,
    /// Its subject.
    pub subject: String,
    /// Its text, lines ended by line feeds.
    pub text: String,
}

impl News<'_> {
    /// Checks that the revision told of, or else the last, was issued; its mark or one sentence.
    pub fn mark<'b>(issued: &'b [PastMark], asked: Option<&'b str>) -> Result<&'b str, String> {
        let Some(mark) = asked.or(issued.last().map(|r| r.mark.as_str())) else {
            return Err("The plan has no issued revision, so there is nothing to tell anyone.".into());
        };
        if issued.iter().any(|r| r.mark == mark) {
            return Ok(mark);
        }
        let marks: Vec<&str> = issued.iter().map(|r| r.mark.as_str()).collect();
        Err(format!("The plan has no issued revision {mark}; it has {}.", marks.join(", ")))
    }

    /// Whether somebody with this copy is to be told.
    pub fn concerns(&self, copy: &Copy) -> bool {
        let marks: Vec<&str> = self.issued.iter().map(|r| r.mark.as_str()).collect();
        older(&marks, self.working, &one_line(&copy[3]), self.mark)
    }

    /// The letter about a copy.
    pub fn mail(&self, copy: &Copy) -> Mail {
        let [name, contact, _, has, size, ..] = copy.clone().map(|cell| one_line(&cell));
        let (title, mark) = (one_line(self.title), self.mark);
        // A plan may have no name.
        let (table, plans) = match title.as_str() {
            "" => ("your table", "Plans for your table"),
            title => (title, title),
        };
        let place = |mark: &str| self.issued.iter().rposition(|r| r.mark == mark);
        let since = place(&has).map_or(0, |i| i + 1);
        let until = place(mark).map_or(0, |i| i + 1);
        let mut text = format!("Dear {name},\n\nyou have revision {has} of the plans for {table}");
        text += &if size.is_empty() { String::new() } else { format!(" at {size}") };
        text += &format!(". Revision {mark} is free for you. What changed since:\n\n");
        for r in self.issued.get(since..until).unwrap_or_default() {
            text += &format!("- {} ({}): {}\n", r.mark, r.date, one_line(&r.what));
        }
        text +=
            "\nThe change notice says which pages to print again and what becomes of parts you have cut.\n";
        if let Some(link) = self.link.map(one_line).filter(|link| !link.is_empty()) {
            text += &format!("Download: {link}\n");
        }
        Mail { to: contact, subject: format!("{plans}: revision {mark}"), text }
    }

    /// All letters one after another, and how many there are.
    pub fn letters(&self, copies: impl Iterator<Item = Copy>) -> String {
        let mut text = String::new();
        let mut count = 0;
        for copy in copies.filter(|copy| self.concerns(copy)) {
            count += 1;
            text += &self.mail(&copy).whole();
            text += "\n----\n";
        }
        text + &format!("{count} to notify of revision {}.\n", self.mark)
    }
}

impl Mail {
    /// Head and text.
    pub fn whole(&self) -> String {
        format!("To: {}\nSubject: {}\n\n{}", self.to, self.subject, self.text)
    }

    /// A link that opens it in a mail program (RFC 6068); none when the contact is no address, or the link would be
    /// longer than mail programs take.
    pub fn link(&self) -> Option<String> {
        let (local, host) = self.to.split_once('@')?;
        let plain = |part: &str| {
            !part.is_empty() && !part.contains(|c: char| c.is_whitespace() || "@,;<>()\"".contains(c))
        };
        if !plain(local) || !plain(host) {
            return None;
        }
        // RFC 6068, 5: line breaks of the text are CR LF.
        let text = self.text.replace('\n', "\r\n");
        let link = format!(
            "mailto:{}@{}?subject={}&body={}",
            encoded(local),
            encoded(host),
            encoded(&self.subject),
            encoded(&text)
        );
        (link.len() <= LINK_MAX).then_some(link)
    }
}

/// Percent-encodes everything but the unreserved letters of RFC 3986, 2.3.
fn encoded(text: &str) -> String {
    const DIGITS: &[u8; 16] = b"0123456789ABCDEF";
    let mut out = String::new();
    for byte in text.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~".contains(&byte) {
            out.push(char::from(byte));
        } else {
            out.push('%');
            out.push(char::from(DIGITS[usize::from(byte >> 4)]));
            out.push(char::from(DIGITS[usize::from(byte & 15)]));
        }
    }
    out
}

/// A text on one line.
fn one_line(cell: &str) -> String {
    let breaks = |c: char| c.is_control() || matches!(c, '\u{2028}' | '\u{2029}');
    cell.split(breaks).map(str::trim).filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn issued() -> Vec<PastMark> {
        let one = |mark: &str, date: &str, what: &str| PastMark {
            mark: mark.into(),
            date: date.into(),
            what: what.into(),
        };
        vec![
            one("A", "2026-02-01", "First."),
            one("B", "2026-03-01", "Deeper\ntongues."),
            one("C", "2026-04-01", "Taller."),
        ]
    }

    fn copy(name: &str, contact: &str, revision: &str) -> Copy {
        [name, contact, "2026-02-01", revision, "1200 mm", "mm", "a4"].map(String::from)
    }

    fn told(news: &News<'_>, copy: &Copy) -> String {
        news.mail(copy).whole()
    }

    #[test]
    fn who_is_to_be_told() {
        let marks = ["A", "B", "C"];
        let all = ["0", "", "A", "B", "C", "D", " B "].map(|has| older(&marks, "D", has, "C"));
        assert_eq!(all, [true, true, true, true, false, false, true]);
        assert!(!older(&marks, "D", "B", "B") && older(&marks, "D", "A", "B"));
        assert_eq!(News::mark(&issued(), None), Ok("C"));
        assert!(News::mark(&issued(), Some("X")).unwrap_err().contains("it has A, B, C"));
        assert!(News::mark(&[], None).unwrap_err().contains("no issued revision"));
    }

    #[test]
    fn a_plan_without_a_name_is_your_table() {
        let all = issued();
        let news = News { title: " ", issued: &all, working: "D", mark: "C", link: None };
        let mail = news.mail(&copy("Ann", "ann@example.org", "A"));
        assert_eq!(mail.subject, "Plans for your table: revision C");
        assert!(mail.text.contains("the plans for your table at 1200 mm."), "{}", mail.text);
    }

    #[test]
    fn a_letter_tells_what_changed_since_and_its_head_stays_its_own() {
        let all = issued();
        let news =
            News { title: "Oak", issued: &all, working: "D", mark: "C", link: Some("https://example.org/c") };
        let said = told(&news, &copy("Line\r\nBcc: x@example.org", "y@example.org\nCc: z", "A"));
        assert!(
            said.starts_with(
                "To: y@example.org Cc: z\nSubject: Oak: revision C\n\nDear Line Bcc: x@example.org,\n\n"
            ),
            "{said}"
        );
        assert!(said.contains("revision A of the plans for Oak at 1200 mm."), "{said}");
        assert!(
            said.contains("- B (2026-03-01): Deeper tongues.\n- C (2026-04-01): Taller.\n")
                && !said.contains("First.")
        );
        assert!(said.ends_with("Download: https://example.org/c\n"));
        // One copy is older, one is not.
        let copies = [copy("P", "p@example.org", "B"), copy("Q", "q@example.org", "C")];
        let letters = news.letters(copies.into_iter());
        assert!(letters.contains("Dear P,") && !letters.contains("Dear Q,"));
        assert!(letters.ends_with("\n----\n1 to notify of revision C.\n"), "{letters}");
    }

    #[test]
    fn a_link_holds_address_subject_and_text_and_nothing_of_a_name_gets_out_of_it() {
        let mail = |to: &str| Mail { to: to.into(), subject: "A & B".into(), text: "50 %\nyes".into() };
        // RFC 6068, 6.1 and 5: "&" and "%" as %26 and %25, a line break as %0D%0A.
        assert_eq!(
            mail("joe@example.org").link().as_deref(),
            Some("mailto:joe@example.org?subject=A%20%26%20B&body=50%20%25%0D%0Ayes")
        );
        // RFC 6068, 6.1, last: "unlikely?address" is written with %3F.
        let odd = mail("unlikely?address@example.org").link().unwrap();
        assert!(odd.starts_with("mailto:unlikely%3Faddress@example.org?subject="), "{odd}");
        for none in ["", "by post", "a@b@c", "a@b, c@d", "@b", "a@", "Joe <joe@example.org>"] {
            assert_eq!(mail(none).link(), None, "{none}");
        }
        let long = Mail { text: "x".repeat(LINK_MAX), ..mail("a@b") };
        assert_eq!(long.link(), None);
    }
}
