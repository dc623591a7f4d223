//! Links within the book's pages, made fit for the app.
//!
//! In: a page as its writer drew it. Out: the same page whose links have names and whose marks cannot be mistaken
//! for parts of the app.
//! Always true: nothing but links and marks is touched; names are escaped. Nothing here touches the browser.

/// How a page begins a link and a mark; text in a page is escaped, so neither can occur in it.
const LINK: &str = "<a href=\"#";
const MARK: &str = "<g id=\"";

/// Gives every link a name, from what it leads to.
pub fn name_links(page: &str, name_of: impl Fn(&str) -> Option<String>) -> String {
    let page = page.replace(MARK, "<g data-mark=\"");
    let mut out = String::with_capacity(page.len());
    let mut rest = page.as_str();
    while let Some(at) = rest.find(LINK) {
        let (before, link) = rest.split_at(at + LINK.len());
        out.push_str(before);
        let Some(end) = link.find('"') else {
            rest = link;
            break;
        };
        let target = &link[..end];
        let name = name_of(target).unwrap_or_else(|| "elsewhere in the book".into());
        out.push_str(target);
        out.push_str("\" aria-label=\"");
        out.push_str(&escaped(&name));
        rest = &link[end..];
    }
    out.push_str(rest);
    out
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::name_links;

    #[test]
    fn links_are_named_and_marks_are_no_ids() {
        let page = "<svg><g id=\"sizes\"/><a href=\"#star\"><rect/></a><a href=\"#gone\"><rect/></a></svg>";
        let named = name_links(page, |target| (target == "star").then(|| "page 9: \"Star\" & more".into()));
        assert_eq!(
            named,
            "<svg><g data-mark=\"sizes\"/><a href=\"#star\" aria-label=\"page 9: &quot;Star&quot; &amp; more\"><rect/></a>\
             <a href=\"#gone\" aria-label=\"elsewhere in the book\"><rect/></a></svg>"
        );
    }

    #[test]
    fn a_page_without_links_stays_as_it_is() {
        assert_eq!(
            name_links("<svg><text>a &lt; b</text></svg>", |_| None),
            "<svg><text>a &lt; b</text></svg>"
        );
    }
}
