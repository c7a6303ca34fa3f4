//! Cautions, once per garment. They are no substitute for local rules.

use crate::adapt::Adapted;
use crate::body::BodyKind;
use crate::finding::{Finding, Gravity, Place};

use super::finding;

/// One note about the tools; for dolls one about small parts.
///
/// # Source
/// Common practice (fact sheet H). The small-parts cylinder of 16 CFR 1501.4 stands behind the second; it applies to
/// toys for children under three.
pub(super) fn findings(adapted: &Adapted) -> Vec<Finding> {
    let note = |what: &str, advice: &str| {
        finding(
            Gravity::Note,
            Place::default(),
            what.to_owned(),
            advice.to_owned(),
            None,
        )
    };
    let mut notes = Vec::new();
    if adapted.fitting.body.kind == BodyKind::Doll {
        notes.push(note(
            "beads, snaps, hooks and buttons are small parts that a child under three can swallow, and long ties can strangle.",
            "For a small child sew it shut or use soft tape and keep ties short; follow your local rules for toys.",
        ));
    }
    notes.push(note(
        "irons burn, blades cut, and a needle that hits a lump can break.",
        "Press it off the body and test the cloth first, close the blade after each cut, turn the wheel by hand over thick places.",
    ));
    notes
}

#[cfg(test)]
#[allow(clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;
    use crate::body::Body;
    use crate::check::samples;

    #[test]
    fn a_doll_gets_the_note_on_small_parts_and_a_woman_only_the_one_on_tools() {
        let notes = |kind| {
            findings(&samples::adapted(
                samples::garment(Vec::new(), Vec::new()),
                Body::new("somebody", kind),
            ))
        };
        assert_eq!(notes(BodyKind::Woman).len(), 1);
        assert_eq!(notes(BodyKind::Doll).len(), 2);
        assert!(
            notes(BodyKind::Doll)
                .iter()
                .all(|note| note.gravity == Gravity::Note)
        );
        insta::assert_snapshot!(notes(BodyKind::Doll)[0], @"the whole garment: beads, snaps, hooks and buttons are small parts that a child under three can swallow, and long ties can strangle. For a small child sew it shut or use soft tape and keep ties short; follow your local rules for toys.");
        insta::assert_snapshot!(notes(BodyKind::Doll)[1], @"the whole garment: irons burn, blades cut, and a needle that hits a lump can break. Press it off the body and test the cloth first, close the blade after each cut, turn the wheel by hand over thick places.");
    }
}
