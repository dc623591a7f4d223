//! Changing the build steps: the deeds behind the editor's buttons.
//!
//! In: the maker's changes, the order shown, an identifier. Out: the changes after the deed.
//! Always true: no deed touches a step other than its own, but for moves, which keep the order shown for all others;
//! a step that is put back leaves no trace. Nothing here touches the browser.

use crate::core::{FIRST, StepChange, free_id};

/// The change of a step, begun when there is none yet.
pub fn entry<'a>(steps: &'a mut Vec<StepChange>, id: &str) -> &'a mut StepChange {
    let at = steps.iter().position(|s| s.id == id).unwrap_or_else(|| {
        steps.push(StepChange::of(id));
        steps.len() - 1
    });
    &mut steps[at]
}

/// Text of a box as paragraphs: blank lines part them, single line breaks are spaces.
pub fn paragraphs(text: &str) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let mut open = false;
    for line in text.lines().map(str::trim) {
        match out.last_mut() {
            _ if line.is_empty() => open = false,
            Some(last) if open => {
                last.push(' ');
                last.push_str(line);
            }
            _ => {
                out.push(line.to_string());
                open = true;
            }
        }
    }
    out
}

/// Paragraphs as the text of a box.
pub fn boxed(paragraphs: &[String]) -> String {
    paragraphs.join("\n\n")
}

/// Rewords a step; an empty title, or the step's own words, go back to its own.
pub fn reword(steps: &mut Vec<StepChange>, id: &str, title: Option<&str>, text: Option<(&str, &[String])>) {
    let own = StepChange::of(id).own();
    let change = entry(steps, id);
    if let Some(title) = title {
        change.title = Some(title.trim().to_string()).filter(|t| own || !t.is_empty());
    }
    if let Some((text, usual)) = text {
        change.text = Some(paragraphs(text)).filter(|t| own || (!t.is_empty() && t != usual));
    }
}

/// Adds a step of the maker's own behind another; its identifier.
pub fn add(steps: &mut Vec<StepChange>, order: &[String], after: &str) -> String {
    let id = free_id(steps);
    let mut own = StepChange::of(id.clone());
    own.title = Some("A step of your own".into());
    own.text = Some(vec!["What is done.".into()]);
    steps.push(own);
    let mut order = order.to_vec();
    let at = order.iter().position(|o| o == after).map_or(order.len(), |i| i + 1);
    order.insert(at, id.clone());
    arrange(steps, &order, &id);
    id
}

/// Moves a step by so many places, as far as the list goes. Whether anything moved.
pub fn shift(steps: &mut Vec<StepChange>, order: &[String], id: &str, by: isize) -> bool {
    let Some(from) = order.iter().position(|o| o == id) else { return false };
    let to = from.saturating_add_signed(by).min(order.len() - 1);
    if to == from {
        return false;
    }
    let mut order = order.to_vec();
    let step = order.remove(from);
    order.insert(to, step);
    arrange(steps, &order, id);
    true
}

/// Says of every moved step, this one among them, behind which it stands in the order wanted. Steps that were never
/// moved keep their order among themselves, so that each moved one finds its place behind one already in place.
fn arrange(steps: &mut Vec<StepChange>, order: &[String], moved: &str) {
    entry(steps, moved).after = Some(String::new());
    let (mut out, movers): (Vec<_>, Vec<_>) =
        std::mem::take(steps).into_iter().partition(|s| s.after.is_none());
    let mut movers = movers;
    for (i, id) in order.iter().enumerate() {
        let Some(at) = movers.iter().position(|s| s.id == *id) else { continue };
        let mut step = movers.remove(at);
        step.after = Some(i.checked_sub(1).map_or_else(|| FIRST.to_string(), |k| order[k].clone()));
        out.push(step);
    }
    // Changes to steps that this table does not have keep what they say.
    out.extend(movers);
    *steps = out;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::core::{Built, Plan};

    fn order(plan: &Plan) -> Vec<String> {
        Built::new(plan).expect("a table").steps().0.into_iter().map(|s| s.id).collect()
    }

    /// Any moves, one after the other, give the order that was seen when each was made.
    #[test]
    fn moves_give_the_order_that_was_shown() {
        let mut plan = Plan::default_metric();
        let mut shown = order(&plan);
        let usual = shown.clone();
        let mut steps = Vec::new();
        let own = add(&mut steps, &shown, &usual[3]);
        shown.insert(4, own.clone());
        for (pick, by) in
            [(5, 2), (5, -4), (0, 9), (7, -7), (4, 1), (9, -1), (3, 3), (0, 1), (11, -100), (2, 100)]
        {
            let id = shown[pick].clone();
            if shift(&mut steps, &shown, &id, by) {
                let step = shown.remove(pick);
                let to = pick.saturating_add_signed(by).min(shown.len());
                shown.insert(to, step);
            }
            plan.set_steps(steps.clone()).unwrap();
            assert_eq!(order(&plan), shown, "moving {id} by {by}");
        }
        assert!(!shift(&mut steps, &shown, "nothing", 1));
    }

    #[test]
    fn own_words_and_empty_words_leave_no_trace() {
        let usual = ["As it is.".to_string()];
        let mut steps = Vec::new();
        reword(&mut steps, "fit/base", Some("Base"), Some(("One.\nstill one.\n\n\nTwo.", &usual)));
        assert_eq!(steps[0].text, Some(vec!["One. still one.".into(), "Two.".into()]));
        reword(&mut steps, "fit/base", Some(" "), Some(("As it is.\n", &usual)));
        assert!(steps[0].is_nothing());
        assert_eq!(boxed(&paragraphs("a\n\nb")), "a\n\nb");
    }

    /// What is offered for rewording prints as the step did: its numbers are references.
    #[test]
    fn rewording_begins_with_living_numbers() {
        let mut plan = Plan::default_metric();
        let (before, _) = Built::new(&plan).expect("a table").steps();
        let with = |s: &&crate::core::StepView| s.own_text.iter().any(|t| t.contains("[="));
        assert!(before.iter().filter(with).count() > 10);
        let mut steps = Vec::new();
        for s in &before {
            entry(&mut steps, &s.id).text = Some(s.own_text.clone());
        }
        plan.set_steps(steps).unwrap();
        let (after, said) = Built::new(&plan).expect("a table").steps();
        assert_eq!(said, Vec::<String>::new());
        for (a, b) in before.iter().zip(&after) {
            assert_eq!(a.text, b.text, "{}", a.id);
        }
    }
}
