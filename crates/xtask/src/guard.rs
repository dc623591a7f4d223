//! Promises about safety that a careless edit could undo without any test failing.
//!
//! In: the manifests of all our crates, `web/index.html`. Out: complaints, empty when the promises stand.
//! Always true: no crate of ours may hold unsafe code, and the page's content-security-policy lets in nothing inline
//! and no code, style, font or picture from elsewhere.

use crate::run::{command, read, root};

/// What the policy may allow, directive by directive. Anything else is a complaint, and so is a missing directive.
const POLICY: &[(&str, &[&str])] = &[
    ("default-src", &["'none'"]),
    ("script-src", &["'self'", "'wasm-unsafe-eval'"]),
    ("style-src", &["'self'"]),
    ("font-src", &["'self'"]),
    // Pictures of a plan and PDF pages are made on the page itself.
    ("img-src", &["'self'", "blob:", "data:"]),
    // Any web address, for the one deed of fetching a plan the visitor agreed to: data only, which no script or
    // style may come from; a policy cannot name hosts that nobody knows yet.
    ("connect-src", &["'self'", "https:", "http:"]),
    ("worker-src", &["'self'"]),
    ("manifest-src", &["'self'"]),
    ("base-uri", &["'none'"]),
    ("form-action", &["'none'"]),
];

/// Everything that is not as promised.
pub fn complaints() -> Result<Vec<String>, String> {
    let file = |name: &str| std::fs::read_to_string(root().join(name)).map_err(|e| format!("{name}: {e}."));
    let mut found = check_page(&file("web/index.html")?);
    if !forbids_unsafe(&file("Cargo.toml")?) {
        found.push("Cargo.toml: [workspace.lints.rust] does not say unsafe_code = \"forbid\"".into());
    }
    let words = ["metadata", "--no-deps", "--format-version", "1", "--offline"];
    let text = read(command("cargo", &words), "cargo metadata")?;
    let data: serde_json::Value = serde_json::from_str(&text).map_err(|e| format!("cargo metadata: {e}."))?;
    for package in data["packages"].as_array().into_iter().flatten() {
        let path = package["manifest_path"].as_str().unwrap_or_default();
        let manifest = std::fs::read_to_string(path).map_err(|e| format!("{path}: {e}."))?;
        if !takes_workspace_lints(&manifest) {
            found.push(format!("crate {} does not take the lints of the workspace", package["name"]));
        }
    }
    Ok(found)
}

/// The lines of a section of a manifest.
fn section<'a>(manifest: &'a str, heading: &str) -> impl Iterator<Item = &'a str> {
    let mut lines = manifest.lines().map(str::trim);
    lines.by_ref().find(|line| *line == heading);
    lines.take_while(|line| !line.starts_with('['))
}

fn forbids_unsafe(manifest: &str) -> bool {
    section(manifest, "[workspace.lints.rust]").any(|line| line.replace(' ', "") == "unsafe_code=\"forbid\"")
}

fn takes_workspace_lints(manifest: &str) -> bool {
    section(manifest, "[lints]").any(|line| line.replace(' ', "") == "workspace=true")
}

/// Complaints about the page and its policy.
fn check_page(html: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut complain = |what: String| found.push(format!("web/index.html: {what}"));
    let after = html.split_once("http-equiv=\"Content-Security-Policy\" content=\"").map(|(_, rest)| rest);
    let Some(policy) = after.and_then(|rest| rest.split('"').next()) else {
        complain("there is no content-security-policy".into());
        return found;
    };
    let before = html.split("Content-Security-Policy").next().unwrap_or_default();
    if before.contains("<script") || before.contains("<link") {
        complain("something is loaded before the content-security-policy stands".into());
    }
    let given: Vec<Vec<&str>> = policy
        .split(';')
        .map(|d| d.split_whitespace().collect())
        .filter(|d: &Vec<_>| !d.is_empty())
        .collect();
    for directive in &given {
        let Some((_, allowed)) = POLICY.iter().find(|(name, _)| *name == directive[0]) else {
            complain(format!("the policy has a directive {} that nobody weighed", directive[0]));
            continue;
        };
        for source in &directive[1..] {
            if !allowed.contains(source) {
                complain(format!("the policy allows {source} in {}", directive[0]));
            }
        }
    }
    for (name, _) in POLICY {
        if !given.iter().any(|d| d[0] == *name && d.len() > 1) {
            complain(format!("the policy says nothing of {name}"));
        }
    }
    for inline in ["<style", " style=\"", " onclick=", " onload=", "javascript:", "src=\"http", "href=\"http"]
    {
        if html.contains(inline) {
            complain(format!("holds `{}`", inline.trim()));
        }
    }
    if html.split("<script").skip(1).any(|rest| !rest.split('>').next().unwrap_or_default().contains("src="))
    {
        complain("holds an inline script".into());
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page(policy: &str, body: &str) -> String {
        format!("<head><meta http-equiv=\"Content-Security-Policy\" content=\"{policy}\"></head>{body}")
    }

    fn strict() -> String {
        POLICY
            .iter()
            .map(|(name, sources)| format!("{name} {}", sources.join(" ")))
            .collect::<Vec<_>>()
            .join("; ")
    }

    #[test]
    fn a_strict_page_has_nothing_to_complain_of() {
        assert_eq!(check_page(&page(&strict(), "<body></body>")), Vec::<String>::new());
    }

    #[test]
    fn a_loosened_policy_is_found() {
        for (from, to) in [
            ("style-src 'self'", "style-src 'self' 'unsafe-inline'"),
            ("'wasm-unsafe-eval'", "'unsafe-eval'"),
            ("connect-src 'self'", "connect-src *"),
            ("; form-action 'none'", ""),
            ("base-uri 'none'", "base-uri 'none'; frame-src 'self'"),
        ] {
            assert_eq!(check_page(&page(&strict().replace(from, to), "")).len(), 1, "{to}");
        }
        assert_eq!(check_page("<head></head>").len(), 1);
    }

    #[test]
    fn inline_code_is_found() {
        for body in ["<script>go()</script>", "<p style=\"top: 0\">", "<img src=\"https://elsewhere/x.png\">"]
        {
            assert_eq!(check_page(&page(&strict(), body)).len(), 1, "{body}");
        }
        assert_eq!(check_page(&page(&strict(), "<script src=\"loader.js\"></script>")), Vec::<String>::new());
        let late = format!("<head><script src=\"a.js\"></script>{}", page(&strict(), ""));
        assert_eq!(check_page(&late).len(), 1);
    }

    #[test]
    fn manifests_are_read_by_section() {
        assert!(takes_workspace_lints("[package]\nname = \"a\"\n\n[lints]\nworkspace = true\n"));
        assert!(!takes_workspace_lints(
            "[package]\nworkspace = true\n\n[lints]\n\n[dependencies]\nworkspace = true\n"
        ));
        assert!(forbids_unsafe("[workspace.lints.rust]\nunsafe_code = \"forbid\"\n"));
        assert!(!forbids_unsafe("[workspace.lints.rust]\nunsafe_code = \"warn\"\n"));
    }
}
