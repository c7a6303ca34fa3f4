//! How fullness lies along its stretch: which way, where the rest goes, what it keeps off.
//!
//! Lengths in mm on the finished edge. Left and right are seen from the right side of the cloth with the drawn-in edge
//! at the top; outlines run counter-clockwise, so left is onward along the edge.

use serde::{Deserialize, Serialize};

use crate::units::Mm;

/// How fullness lies along its stretch. The default spreads it evenly and lays folds to the left.
///
/// Gathers, shirring and cartridge pleats run evenly over the whole stretch: only `rows` counts for them. Put what they
/// keep off outside the stretch.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Layout {
    /// Which way folds lie.
    pub lies: Lies,
    /// Distance from pleat to pleat on the finished edge; `None` divides the stretch evenly.
    pub spacing: Option<Mm>,
    /// Where plain cloth goes that the spacing leaves over.
    pub rest: Rest,
    /// How far the first and the last pleat stand from the ends; `None` is half a spacing.
    pub margin: Option<Mm>,
    /// Width of the top of a box pleat; `None` is twice its depth: the folds meet behind.
    pub top: Option<Mm>,
    /// Pleats in groups with plain cloth between.
    pub groups: Option<Groups>,
    /// A part left plain, such as a panel in front.
    pub plain: Option<PlainPanel>,
    /// Places no fold may come near: seams, a placket, the centre.
    pub keep_off: Vec<KeepOff>,
    /// How far down from the edge pleats are stitched shut.
    pub sewn_down: Option<Mm>,
    /// Distances of gathering rows from the stitch line into the piece; below 0 they run in the allowance. Empty: two
    /// rows in the allowance, or what the kind of fullness says.
    pub rows: Vec<Mm>,
}

/// Which way folds lie, the drawn-in edge at the top and the right side of the cloth towards you.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Lies {
    /// To the left: onward along the edge.
    #[default]
    Left,
    /// To the right.
    Right,
    /// Towards the middle of the stretch (or of its plain panel) from both sides.
    ToCentre,
    /// Away from it.
    FromCentre,
}

/// Where plain cloth goes that is left over.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Rest {
    /// Half of it at each end.
    #[default]
    Ends,
    /// At the right end, where the stretch starts.
    Start,
    /// At the left end, where the stretch ends.
    End,
    /// In the middle.
    Middle,
}

/// Pleats in groups.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Groups {
    /// Pleats in each.
    pub each: u32,
    /// Plain cloth between two groups, besides the spacing.
    pub gap: Mm,
}

/// A part of the stretch left plain.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PlainPanel {
    /// Its middle, as a share of the stretch.
    pub at: f64,
    /// Its width.
    pub width: Mm,
}

/// A place that no fold may come near.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct KeepOff {
    /// What is there, in the maker's words: "side seam".
    pub what: String,
    /// Where, as a share of the finished stretch.
    pub at: f64,
    /// How far every fold stays away.
    pub by: Mm,
}

impl Layout {
    /// Is nothing chosen?
    pub fn is_default(&self) -> bool {
        *self == Self::default()
    }

    /// The same layout on the edge of the other hand, walked from its other end.
    pub fn mirrored(&self) -> Self {
        Self {
            lies: match self.lies {
                Lies::Left => Lies::Right,
                Lies::Right => Lies::Left,
                both => both,
            },
            rest: match self.rest {
                Rest::Start => Rest::End,
                Rest::End => Rest::Start,
                other => other,
            },
            plain: self.plain.map(|p| PlainPanel {
                at: 1.0 - p.at,
                ..p
            }),
            keep_off: self
                .keep_off
                .iter()
                .map(|k| KeepOff {
                    at: 1.0 - k.at,
                    ..k.clone()
                })
                .collect(),
            ..self.clone()
        }
    }

    /// The same layout on an edge this many times as long: every length in proportion.
    pub fn scaled(&self, factor: f64) -> Self {
        let size = |m: Mm| Mm(m.0 * factor);
        Self {
            lies: self.lies,
            spacing: self.spacing.map(size),
            rest: self.rest,
            margin: self.margin.map(size),
            top: self.top.map(size),
            groups: self.groups.map(|g| Groups {
                gap: size(g.gap),
                ..g
            }),
            plain: self.plain.map(|p| PlainPanel {
                width: size(p.width),
                ..p
            }),
            keep_off: self
                .keep_off
                .iter()
                .map(|k| KeepOff {
                    by: size(k.by),
                    ..k.clone()
                })
                .collect(),
            sewn_down: self.sewn_down.map(size),
            rows: self.rows.iter().copied().map(size).collect(),
        }
    }
}
