//! In: the outlines of our own signs. Out: the committed font file is exactly what they build, and
//! it lives up to what the text crate assumes about it.
//! To accept a change: `TURNLEAF_ACCEPT=1 cargo test -p turnleaf-text --test symbols`.

mod draw;

const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../static/fonts/TurnleafSigns-Regular.ttf");

#[test]
fn the_committed_font_is_what_the_drawings_build() {
    let built = draw::build();
    if std::env::var_os("TURNLEAF_ACCEPT").is_some() {
        std::fs::write(FILE, &built).expect("the font folder can be written");
    }
    let kept = std::fs::read(FILE).expect("static/fonts/TurnleafSigns-Regular.ttf is missing");
    assert!(kept == built, "the committed font differs from its drawings; see the head of this test");
}
