//! What a piece is and how it is cut: the words and keys of it.

use super::kinds::{Family, Role};

/// What a piece is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum What {
    Front,
    Back,
    FrontYoke,
    BackYoke,
    FrontBody,
    BackBody,
    Sleeve,
    SkirtFront,
    SkirtSide,
    SkirtBack,
    FrontLeg,
    BackLeg,
    Collar,
    Waistband,
    Cuff,
}

/// How it is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Cut {
    /// Once, the drawing being one half on a fold.
    Fold,
    /// Twice, one the mirror image of the other.
    Pair,
    /// Once, as drawn.
    Once,
}

impl What {
    pub(super) const ALL: [Self; 15] = [
        Self::Front,
        Self::Back,
        Self::FrontYoke,
        Self::BackYoke,
        Self::FrontBody,
        Self::BackBody,
        Self::Sleeve,
        Self::SkirtFront,
        Self::SkirtSide,
        Self::SkirtBack,
        Self::FrontLeg,
        Self::BackLeg,
        Self::Collar,
        Self::Waistband,
        Self::Cuff,
    ];

    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Back => "back",
            Self::FrontYoke => "front yoke",
            Self::BackYoke => "back yoke",
            Self::FrontBody => "front body",
            Self::BackBody => "back body",
            Self::Sleeve => "sleeve",
            Self::SkirtFront => "skirt front",
            Self::SkirtSide => "skirt side",
            Self::SkirtBack => "skirt back",
            Self::FrontLeg => "front leg",
            Self::BackLeg => "back leg",
            Self::Collar => "collar",
            Self::Waistband => "waistband",
            Self::Cuff => "cuff",
        }
    }

    pub(super) const fn family(self) -> Family {
        match self {
            Self::Front | Self::Back => Family::Bodice,
            Self::FrontYoke | Self::BackYoke => Family::Yoke,
            Self::FrontBody | Self::BackBody => Family::Under,
            Self::Sleeve => Family::Sleeve,
            Self::SkirtFront | Self::SkirtSide | Self::SkirtBack => Family::Panel,
            Self::FrontLeg | Self::BackLeg => Family::Leg,
            Self::Collar | Self::Waistband | Self::Cuff => Family::Band,
        }
    }

    /// Those of one kind, the front first.
    pub(super) fn of(family: Family) -> impl Iterator<Item = Self> {
        Self::ALL
            .into_iter()
            .filter(move |what| what.family() == family)
    }

    /// Does it lie in front of its kind's mate?
    pub(super) const fn is_front(self) -> bool {
        matches!(
            self,
            Self::Front | Self::FrontYoke | Self::FrontBody | Self::SkirtFront | Self::FrontLeg
        )
    }

    /// How it can be cut, the usual way first.
    pub(super) const fn cuts(self) -> &'static [Cut] {
        match self {
            Self::Sleeve | Self::Cuff | Self::FrontLeg | Self::BackLeg | Self::SkirtSide => {
                &[Cut::Pair]
            }
            Self::Collar | Self::Waistband => &[Cut::Fold, Cut::Once],
            _ => &[Cut::Fold, Cut::Pair],
        }
    }

    /// The name of an edge that plays a part on this piece.
    pub(super) const fn edge(self, role: Role) -> &'static str {
        let front = self.is_front();
        match role {
            Role::Centre if front => "centre front",
            Role::Centre => "centre back",
            Role::Extension => "neck extension",
            Role::Neckline => "neckline",
            Role::Shoulder => "shoulder",
            Role::Armscye => "armscye",
            Role::Side => "side seam",
            Role::Lower => match self {
                Self::FrontYoke | Self::BackYoke => "yoke seam",
                Self::FrontBody | Self::BackBody => "hem",
                _ => "lower edge",
            },
            Role::Upper => "yoke seam",
            Role::Cap => "cap",
            Role::Fronter => match self {
                Self::Sleeve => "underarm front",
                Self::SkirtFront => "centre front",
                Self::SkirtSide => "front seam",
                _ => "side seam",
            },
            Role::Backer => match self {
                Self::Sleeve => "underarm back",
                Self::SkirtFront => "side seam",
                Self::SkirtSide => "back seam",
                _ => "centre back",
            },
            Role::Hem => "hem",
            Role::Waist => "waist",
            Role::Rise => "rise",
            Role::Outer => "outer seam",
            Role::Inner => "inner seam",
            Role::Attached => match self {
                Self::Collar => "neck edge",
                Self::Waistband => "waist edge",
                _ => "sleeve edge",
            },
            Role::EndOne => match self {
                Self::Collar => "centre back",
                Self::Waistband => "centre front",
                _ => "end back",
            },
            Role::EndTwo => match self {
                Self::Collar => "front end",
                Self::Waistband => "end",
                _ => "end front",
            },
            Role::Free => "outer edge",
        }
    }
}

impl Cut {
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::Fold => "one half, cut on the fold",
            Self::Pair => "cut as a pair",
            Self::Once => "cut once",
        }
    }

    const fn key(self) -> &'static str {
        match self {
            Self::Fold => "fold",
            Self::Pair => "pair",
            Self::Once => "once",
        }
    }
}

/// The key of a way: "front, fold".
pub(super) fn way_key(what: What, cut: Cut) -> String {
    format!("{}, {}", what.name(), cut.key())
}

/// What a key says.
pub(super) fn of_key(key: &str) -> Option<(What, Cut)> {
    What::ALL
        .into_iter()
        .flat_map(|what| what.cuts().iter().map(move |cut| (what, *cut)))
        .find(|(what, cut)| way_key(*what, *cut) == key)
}

/// Is it a name that a program gave: "Piece 3", "edge 2", "", "7"?
pub(super) fn is_generic(name: &str) -> bool {
    let letters: String = name
        .chars()
        .filter(|c| c.is_alphabetic())
        .collect::<String>()
        .to_lowercase();
    matches!(
        letters.as_str(),
        "" | "piece"
            | "outline"
            | "shape"
            | "path"
            | "part"
            | "pattern"
            | "edge"
            | "line"
            | "e"
            | "p"
            | "polyline"
            | "group"
            | "layer"
            | "page"
            | "unnamed"
            | "size"
    )
}

/// How well a name that came with the drawing fits: above 1 when it says so, below when it says something else.
pub(super) fn hint(name: &str, what: What) -> f64 {
    let name = name.to_lowercase();
    let says = |word: &str| name.contains(word);
    let kinds = [
        ("sleeve", Family::Sleeve),
        ("yoke", Family::Yoke),
        ("collar", Family::Band),
        ("cuff", Family::Band),
        ("band", Family::Band),
        ("skirt", Family::Panel),
        ("gore", Family::Panel),
        ("bodice", Family::Bodice),
        ("trouser", Family::Leg),
        ("leg", Family::Leg),
    ];
    let mut hint = 1.0;
    for (word, family) in kinds {
        if says(word) {
            hint *= if what.family() == family { 4.0 } else { 0.5 };
        }
    }
    for (word, front) in [("front", true), ("back", false)] {
        let has_side =
            !matches!(what.family(), Family::Sleeve | Family::Band) && what != What::SkirtSide;
        if says(word) && has_side {
            hint *= if what.is_front() == front { 4.0 } else { 0.3 };
        }
    }
    hint
}
