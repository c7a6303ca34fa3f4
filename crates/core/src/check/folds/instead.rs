//! What can be made instead of folds that the cloth or the band does not take: fewer, shallower, another kind, thinner
//! cloth.

use super::Case;
use crate::fullness::{
    Band, EASED_UP_TO, FoldedEdge, Fullness, Kind, fullest_gathers, narrowest, shallowest, stack,
};
use crate::units::Mm;

/// A way out: in words, and as fullness where it is one.
pub(super) struct Way {
    pub words: String,
    pub instead: Option<Fullness>,
}

impl Way {
    fn new(words: String, instead: Fullness) -> Self {
        Self {
            words,
            instead: Some(instead),
        }
    }

    fn only_words(words: impl Into<String>) -> Self {
        Self {
            words: words.into(),
            instead: None,
        }
    }
}

/// "Make 12 instead of 20, or use thinner cloth."
pub(super) fn advice(ways: &[Way]) -> String {
    if ways.is_empty() {
        return "Use thinner cloth, or leave it out.".to_owned();
    }
    let mut words = String::new();
    for (i, way) in ways.iter().enumerate() {
        let between = match i {
            0 => "",
            i if i + 1 == ways.len() => ", or ",
            _ => "; ",
        };
        words.push_str(between);
        words.push_str(&way.words);
    }
    let mut chars = words.chars();
    let capital = chars.next().map(|first| first.to_uppercase());
    format!(
        "{}{}.",
        capital.map_or_else(String::new, |first| first.to_string()),
        chars.as_str()
    )
}

impl Case<'_> {
    /// The same cloth eased in or gathered, where it can be.
    pub(super) fn drawn_in_instead(&self) -> Option<Way> {
        let cloth = self.op.fullness.cloth_length(self.finished);
        let ratio = cloth.0 / self.finished.0;
        if ratio <= EASED_UP_TO {
            let by = cloth - self.finished;
            let words = "ease the same cloth in without a fold".to_owned();
            return Some(Way::new(words, Fullness::Ease { by }));
        }
        let fits = ratio <= fullest_gathers(self.thickness(), self.stitch());
        fits.then(|| {
            let words = format!("gather the same cloth, {ratio:.1} times");
            Way::new(words, Fullness::Gathers { ratio })
        })
    }

    /// The same cloth in as many knife pleats as can be pressed.
    pub(super) fn pleated_instead(&self) -> Option<Way> {
        let thickness = self.thickness();
        let apart = narrowest(Kind::Knife, thickness).0;
        let cloth = self.op.fullness.cloth_length(self.finished);
        let taken = (cloth - self.finished).0;
        let by_depth = taken / (2.0 * shallowest(Kind::Knife, thickness).0);
        let count = (self.finished.0 / apart).min(by_depth).floor();
        (1.0..=2000.0).contains(&count).then(|| {
            let (number, depth) = (count as u32, Mm(taken / (2.0 * count)));
            let words = format!(
                "lay the same cloth in {}, {:.1} mm apart",
                Kind::Knife.counted(number),
                self.finished.0 / count
            );
            let pleats = Fullness::KnifePleats {
                count: number,
                depth,
            };
            Way::new(words, pleats)
        })
    }

    /// The thickest cloth in which these folds can be pressed as they are.
    pub(super) fn cloth_to_press(&self, kind: Kind, spacing: Mm, depth: Mm) -> Option<Way> {
        let goes = |thickness: f64| {
            let cloth = Mm(thickness);
            spacing.0 >= narrowest(kind, cloth).0 && depth.0 >= shallowest(kind, cloth).0
        };
        let (mut low, mut high) = (0.0, self.thickness().0);
        for _ in 0..30 {
            let middle = (low + high) / 2.0;
            if goes(middle) {
                low = middle
            } else {
                high = middle
            }
        }
        thinner(low)
    }

    /// What a band takes instead of what is too thick for it.
    pub(super) fn for_band(&self, band: &Band<'_>) -> Vec<Way> {
        let room = band.layers_in(self.thickness());
        let layers = |fullness: Fullness| {
            let folded = FoldedEdge::new(fullness, &self.op.layout, self.finished);
            stack(&folded, self.thickness()).layers
        };
        let now = layers(self.op.fullness);
        let mut ways = Vec::new();
        ways.extend(self.shallower(room, now, &layers));
        ways.extend(self.fewer(room, &layers));
        let is_counted = self.op.fullness.count().is_some();
        let ratio = self.op.fullness.cloth_length(self.finished).0 / self.finished.0;
        if is_counted && ratio <= room {
            ways.extend(self.drawn_in_instead());
        }
        ways.extend(thinner(band.takes().0 / (now + 2.0)));
        ways.push(Way::only_words("make the band deeper"));
        ways.push(Way::only_words("face the edge instead"));
        ways
    }

    /// Pleats that lie on each other, as deep as full ones; gathers less full.
    fn shallower(&self, room: f64, now: f64, layers: &dyn Fn(Fullness) -> f64) -> Option<Way> {
        let fullness = self.op.fullness;
        if let Fullness::Gathers { .. } | Fullness::Shirring { .. } = fullness {
            let fits = (room * 10.0).floor() / 10.0;
            return (fits > 1.0)
                .then(|| Way::new(format!("gather {fits:.1} times"), self.gathered(fits)));
        }
        let count = fullness.count().filter(|n| *n > 0)?;
        let full = fullness.kind().full_depth()?;
        let depth = Mm(self.finished.0 / f64::from(count) * full);
        let shallower = fullness.with_depth(depth);
        (layers(shallower) < now).then(|| {
            let words = format!(
                "make the pleats shallower, {:.1} mm, so that they do not lie on each other",
                depth.0
            );
            Way::new(words, shallower)
        })
    }

    /// The most of the same depth that the band takes; the fewer there are, the less they lie on each other.
    fn fewer(&self, room: f64, layers: &dyn Fn(Fullness) -> f64) -> Option<Way> {
        let fullness = self.op.fullness;
        let count = fullness.count().filter(|n| *n > 1)?;
        let goes = |n: u32| layers(fullness.with_count(n)) <= room + 1e-9;
        let (mut low, mut high) = (0, count);
        while high - low > 1 {
            let middle = u32::midpoint(low, high);
            if goes(middle) {
                low = middle
            } else {
                high = middle
            }
        }
        (low > 0).then(|| {
            let words = format!("make {low} instead of {count}");
            Way::new(words, fullness.with_count(low))
        })
    }
}

/// Cloth no thicker than this; nothing where no cloth is so thin.
pub(super) fn thinner(thickness: f64) -> Option<Way> {
    const THINNEST: f64 = 0.03;
    let rounded = (thickness * 100.0 + 1e-9).floor() / 100.0;
    (rounded >= THINNEST)
        .then(|| Way::only_words(format!("use cloth of {rounded:.2} mm or thinner")))
}
