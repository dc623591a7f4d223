//! Finds the spaces at which a line must not break.
//!
//! In: a text. Out: byte places of single spaces that hold a number to its fraction or its unit.
//! Always true: every place is a plain space between two other characters.

/// Units and words that stay with the number before them.
const UNITS: [&str; 17] =
    ["mm", "cm", "m", "km", "in", "in.", "ft", "kg", "g", "lb", "N", "Nm", "°", "%", "″", "′", "s"];

/// Signs that stay with the number after them.
const BEFORE: [&str; 6] = ["⌀", "∅", "R", "±", "×", "M"];

/// Byte places of the spaces that must hold.
pub(crate) fn protected(text: &str) -> Vec<usize> {
    let mut places = Vec::new();
    if !text.bytes().any(|b| b.is_ascii_digit()) {
        return places;
    }
    let mut start = 0;
    let words: Vec<(usize, &str)> = text
        .split(' ')
        .map(|w| {
            let at = start;
            start += w.len() + 1;
            (at, w)
        })
        .collect();
    for pair in words.windows(2) {
        let ((_, a), (at, b)) = (pair[0], pair[1]);
        let number = a.ends_with(|c: char| c.is_ascii_digit() || "½¼¾⅛⅜⅝⅞".contains(c));
        let bare = b.trim_end_matches([',', '.', ';', ':', ')', '!', '?']);
        let unit = UNITS.contains(&bare) || UNITS.contains(&b);
        let fraction = b.starts_with(|c: char| "½¼¾⅛⅜⅝⅞".contains(c))
            || (b.starts_with(|c: char| c.is_ascii_digit()) && b.contains('/') && !a.contains('/'));
        let sign = BEFORE.contains(&a) && b.starts_with(|c: char| c.is_ascii_digit());
        if (number && (unit || fraction)) || sign {
            places.push(at - 1);
        }
    }
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_and_units_hold() {
        let held = |text: &str| -> String {
            let places = protected(text);
            text.char_indices().map(|(i, c)| if places.contains(&i) { '_' } else { c }).collect()
        };
        assert_eq!(held("cut 47 1/4 in, then 12 mm."), "cut 47_1/4_in, then 12_mm.");
        assert_eq!(held("R 600 and ⌀ 8 with 3 screws"), "R_600 and ⌀_8 with 3 screws");
        assert_eq!(held("in the middle of 5"), "in the middle of 5");
        assert_eq!(held("a  b 3  mm"), "a  b 3  mm");
        assert_eq!(held("1/2 3/4"), "1/2 3/4");
        assert_eq!(held("7 ½ kg"), "7_½_kg");
    }
}
