//! The rules of the making order, as one table: the engine, the findings and the sheet all read them here.

/// A rule of the making order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rule {
    /// Names it for good.
    pub key: &'static str,
    /// What it says, in the maker's words.
    pub words: &'static str,
    /// Where it comes from.
    pub source: &'static str,
    /// Must it hold, or is it only better so?
    pub strength: Strength,
    /// Does the later step hold the earlier one fast, so that both are unpicked when the earlier one is wrong?
    pub holds: bool,
}

/// How much a rule weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Strength {
    /// Otherwise the later step cannot be done, or has to be undone.
    Must,
    /// Otherwise it is only more trouble.
    Better,
}

use Strength::{Better, Must};

const PRACTICE: &str = "common practice, no source";
const SMALL_TUBES: &str = "practice, agrees with J01 (fact sheet J1, order for small tubes)";
const GEOMETRY: &str = "computed from the seams and their ends";

/// Every rule.
pub const RULES: &[Rule] = &[
    rule(
        "cut first",
        "everything is cut out and marked before it is sewn",
        PRACTICE,
        Must,
    ),
    rule(
        "piece first",
        "a copy that is cut in parts is sewn together before anything else touches it",
        PRACTICE,
        Must,
    ),
    rule(
        "neaten flat",
        "edges that stay raw inside are overcast while the pieces are flat",
        PRACTICE,
        Better,
    ),
    rule(
        "mount first",
        "what is mounted on a piece is basted to it first, and both are sewn as one",
        PRACTICE,
        Must,
    ),
    rule(
        "shape first",
        "darts, tucks and pleats are sewn while the piece is still flat, before its seams",
        PRACTICE,
        Must,
    ),
    rule(
        "draw in first",
        "an edge is gathered or pleated before it is sewn to its mate",
        PRACTICE,
        Must,
    ),
    holding(rule(
        "crossed seam first",
        "a seam that ends at another one is sewn before the one that runs across its end",
        GEOMETRY,
        Must,
    )),
    holding(rule(
        "join before finishing",
        "pieces are joined before an edge that runs across the join is hemmed, faced or turned over",
        PRACTICE,
        Must,
    )),
    holding(rule(
        "ends are caught",
        "an edge is finished before a seam catches its end",
        PRACTICE,
        Must,
    )),
    holding(rule(
        "small parts first",
        "a collar, cuff or band that is bagged out is turned and pressed before it is sewn on",
        PRACTICE,
        Must,
    )),
    rule(
        "turn after bagging",
        "what is bagged out is turned once all its edges are sewn",
        GEOMETRY,
        Must,
    ),
    rule(
        "finish after turning",
        "what is seen on the right side is finished after turning; a hem sewn before would lie on the wrong side",
        PRACTICE,
        Must,
    ),
    rule(
        "way out",
        "a bagged lining needs an opening to be turned through that is wide enough for the bundle",
        GEOMETRY,
        Must,
    ),
    holding(rule(
        "close the gap last",
        "the gap is closed by hand after turning",
        GEOMETRY,
        Must,
    )),
    holding(rule(
        "felled over",
        "the free edge of a band is felled over the seam it covers, after that seam and after its ends",
        PRACTICE,
        Must,
    )),
    rule(
        "fell after making up",
        "shell and lining are made up before the lining is felled in",
        PRACTICE,
        Must,
    ),
    rule(
        "try on before hemming",
        "the length of what hangs from the body is set at the fitting, so its hem comes after",
        PRACTICE,
        Must,
    ),
    rule(
        "try on when closed",
        "it is tried on once the seams that shape it are sewn",
        PRACTICE,
        Must,
    ),
    rule(
        "press before fastening",
        "all is pressed before anything hard is sewn on",
        PRACTICE,
        Must,
    ),
    rule(
        "closures last",
        "fastenings are sewn on when the edges they sit on are finished",
        SMALL_TUBES,
        Must,
    ),
    rule(
        "try on first",
        "it is tried on before the lining goes in, while seams are easy to change",
        PRACTICE,
        Better,
    ),
    rule(
        "keep flat",
        "what can be sewn flat is sewn before its piece is closed to a ring: sleeve hems, gathers, cuffs, sleeves set in flat",
        SMALL_TUBES,
        Better,
    ),
    rule(
        "in one go",
        "seams that run on into each other are sewn in one go: sleeve and side seam",
        "practice, J01 (fact sheet J1, sleeves)",
        Better,
    ),
    rule(
        "bag before closing",
        "a second edge is bagged out while the seams between are still open; ring into ring it has to be pulled through",
        GEOMETRY,
        Better,
    ),
    rule(
        "press each seam",
        "every seam is pressed before another one crosses it",
        PRACTICE,
        Better,
    ),
];

const fn rule(
    key: &'static str,
    words: &'static str,
    source: &'static str,
    strength: Strength,
) -> Rule {
    Rule {
        key,
        words,
        source,
        strength,
        holds: false,
    }
}

const fn holding(rule: Rule) -> Rule {
    Rule {
        holds: true,
        ..rule
    }
}

/// The rule of this key.
pub fn rule_of(key: &str) -> Option<&'static Rule> {
    RULES.iter().find(|rule| rule.key == key)
}
