//! An independent folder of cloth: each cloth is one line that is folded at a place, cut off, opened out. Layers are
//! counted by asking how often a line passes over a place. It shares nothing with the sections.

use proptest::prelude::*;

use petitoile_core::bulk::section::{Lies, Moment, Of, Section, Widths, Work, sections, table};
use petitoile_core::seams::SeamKind;

/// A line of cloth: the places where it turns, in its own order.
#[derive(Debug, Clone)]
struct Cloth(Vec<f64>);

/// Far enough into the piece that nothing of it is counted by mistake.
const BODY: f64 = 100.0;

impl Cloth {
    /// A side laid for sewing: from its body on the left over the stitch line at 0 to its cut edge.
    fn laid(allowance: f64) -> Self {
        Self(vec![-BODY, allowance])
    }

    /// Splits at so much from its start.
    fn split(&mut self, along: f64) -> usize {
        let mut gone = 0.0;
        for i in 0..self.0.len() - 1 {
            let (a, b) = (self.0[i], self.0[i + 1]);
            let long = (b - a).abs();
            if along < gone + long {
                self.0.insert(i + 1, a + (b - a) * (along - gone) / long);
                return i + 1;
            }
            gone += long;
        }
        self.0.len() - 1
    }

    /// Folds everything that comes after.
    fn fold_rest(mut self, along: f64) -> Self {
        let at = self.split(along);
        let x = self.0[at];
        for later in &mut self.0[at + 1..] {
            *later = 2.0 * x - *later;
        }
        self
    }

    /// Folds everything that comes before: opens the piece out.
    fn open(mut self, along: f64) -> Self {
        let at = self.split(along);
        let x = self.0[at];
        for earlier in &mut self.0[..at] {
            *earlier = 2.0 * x - *earlier;
        }
        self
    }

    fn trimmed(mut self, along: f64) -> Self {
        let at = self.split(along);
        self.0.truncate(at + 1);
        self
    }

    fn over(&self, x: f64) -> u32 {
        let passes = |pair: &&[f64]| pair[0].min(pair[1]) < x && x < pair[0].max(pair[1]);
        self.0.windows(2).filter(passes).count() as u32
    }
}

/// Both cloths of a seam and its strip at a moment, folded as a hand folds them.
fn folded(kind: SeamKind, lies: Lies, moment: Moment, w: f64) -> [Cloth; 3] {
    let none = || Cloth(vec![0.0, 0.0]);
    let (a, b) = (Cloth::laid(w), Cloth::laid(w));
    // The stitch line lies this far from the start of each.
    let stitch = BODY;
    if moment == Moment::Sewn && kind != SeamKind::Lapped {
        return [a, b, none()];
    }
    match (kind, lies) {
        (SeamKind::Plain, Lies::Open) => [a.fold_rest(stitch), b.open(stitch), none()],
        // Both bodies go over to the side of the allowances.
        (SeamKind::Plain, Lies::Turned) => [a.open(stitch), b.open(stitch), none()],
        (SeamKind::Plain | SeamKind::Overedged, _) => [a, b.open(stitch), none()],
        (SeamKind::French, _) => {
            // Wrong sides together: the first row half way out, trimmed to eight tenths of what then stands off.
            let (row, rest) = (stitch + w / 2.0, 0.8 * w / 2.0);
            let enclosed = |cloth: Cloth| cloth.trimmed(row + rest).fold_rest(row);
            let (a, b) = (enclosed(a), enclosed(b));
            if moment == Moment::Second {
                [a, b, none()]
            } else {
                [a, b.open(stitch), none()]
            }
        }
        (SeamKind::Felled, _) => {
            let a = a.fold_rest(stitch + w / 2.0);
            let b = b.trimmed(stitch + 0.8 * w / 2.0).open(stitch);
            [a, b, none()]
        }
        (SeamKind::Bound, _) => {
            // A strip four times as wide as half the allowance: in at a quarter from both ends, then round the edge.
            let s = w / 2.0;
            let strip = Cloth(vec![w - 2.0 * s, w + 2.0 * s])
                .open(s)
                .fold_rest(3.0 * s);
            let strip = strip.fold_rest(2.0 * s);
            if moment == Moment::Second {
                [a, b, strip]
            } else {
                [a, b.open(stitch), strip]
            }
        }
        (SeamKind::Lapped, _) => {
            // The piece laid on top: its allowance turned under. The other comes from the right, its allowance beneath.
            let under = Cloth(vec![BODY, -w]);
            [a.fold_rest(stitch), under, none()]
        }
    }
}

fn agree(section: &Section, cloths: &[Cloth; 3], (low, high): (f64, f64), what: &str) {
    for i in 0..400 {
        let x = low + (f64::from(i) + 0.37) / 400.0 * (high - low);
        let cover = section.cover(x);
        let counted = [&cloths[0], &cloths[1], &cloths[2]].map(|c| c.over(x));
        assert_eq!([cover.a, cover.b, cover.strip], counted, "{what} at {x:.2}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn every_seam_has_the_layers_that_a_hand_folds(w in 1.0_f64..20.0) {
        for (kind, lies) in [
            (SeamKind::Plain, Lies::Open),
            (SeamKind::Plain, Lies::OnB),
            (SeamKind::Plain, Lies::Turned),
            (SeamKind::Overedged, Lies::OnB),
            (SeamKind::French, Lies::OnB),
            (SeamKind::Felled, Lies::OnB),
            (SeamKind::Bound, Lies::OnB),
            (SeamKind::Lapped, Lies::OnB),
        ] {
            for (moment, section) in sections(Work::Seam(kind, lies), Widths { a: w, b: w }) {
                let cloths = folded(kind, lies, moment, w);
                // So far sections are drawn: 4.9 mm into the pieces.
                let drawn = if kind == SeamKind::Lapped { (-w - 4.9, 4.9) } else { (-4.9, w + 4.9) };
                agree(&section, &cloths, drawn, &format!("{kind:?} {lies:?} {moment:?}, allowance {w}"));
            }
        }
    }

    #[test]
    fn what_lies_over_one_side_lies_over_the_other_mirrored(w in 1.0_f64..20.0, v in 1.0_f64..20.0) {
        for kind in petitoile_core::bulk::section::KINDS {
            let on = |lies, a, b| sections(Work::Seam(kind, lies), Widths { a, b });
            if kind == SeamKind::Lapped {
                continue;
            }
            let (one, other) = (on(Lies::OnB, w, v), on(Lies::OnA, v, w));
            for ((moment, right), (_, left)) in one.iter().zip(&other) {
                if *moment != Moment::Lying {
                    continue;
                }
                for i in -50..50 {
                    let x = (f64::from(i) + 0.31) / 50.0 * 24.0;
                    let (r, l) = (right.cover(x), left.cover(-x));
                    prop_assert_eq!((r.a, r.b, r.strip), (l.b, l.a, l.strip));
                }
            }
        }
    }
}

#[test]
fn a_hem_has_the_layers_that_a_hand_folds() {
    // x runs into the piece: the cloth comes from the right and is turned at 0.
    let cloth = |w: f64| Cloth(vec![BODY, -w]);
    let once = sections(Work::Hem { turns: 1 }, Widths { a: 8.0, b: 0.0 });
    let none = || Cloth(vec![0.0, 0.0]);
    agree(
        &once[0].1,
        &[cloth(8.0).fold_rest(BODY), none(), none()],
        (-1.0, 12.9),
        "once",
    );
    let twice = sections(Work::Hem { turns: 2 }, Widths { a: 6.0, b: 6.0 });
    let turned = cloth(12.0).fold_rest(BODY + 6.0).fold_rest(BODY);
    agree(
        &twice[0].1,
        &[turned, none(), none()],
        (-1.0, 10.9),
        "twice",
    );
}

/// A corner folded in the plane: a point inside shows every point of the flat cloth that comes to lie there.
#[test]
fn a_turned_corner_has_four_layers_of_each_cloth() {
    let (w, inside) = (6.0, (2.0, 3.0));
    let mirrored = [(1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)];
    let there = mirrored
        .iter()
        .map(|m| (m.0 * inside.0, m.1 * inside.1))
        .filter(|p| p.0 > -w && p.1 > -w)
        .count();
    let corner = sections(Work::Corner, Widths { a: w, b: w });
    let (cover, _) = corner[0].1.thickest(1.0, 1.0, 1.0).unwrap();
    assert_eq!((cover.a as usize, cover.b as usize), (there, there));
}

/// Counted by hand with two bits of cloth, then written down.
#[test]
fn the_table_of_layer_counts() {
    let rows: Vec<String> = table()
        .iter()
        .map(|row| {
            let c = row.cover;
            let strip = if c.strip > 0 {
                format!(" + {} of the strip", c.strip)
            } else {
                String::new()
            };
            format!(
                "{}, {}: {} + {}{strip} ({})",
                row.work.words(),
                row.moment.words(),
                c.a,
                c.b,
                row.why
            )
        })
        .collect();
    insta::assert_snapshot!(rows.join("\n"), @r"
    plain seam, under the foot: 1 + 1 (both sides laid together)
    plain seam, lying: 0 + 2 (each piece with its own allowance pressed back on it)
    plain seam, under the foot: 1 + 1 (both sides laid together)
    plain seam, lying: 1 + 2 (the piece below with both allowances on it)
    turned edge, under the foot: 1 + 1 (both sides laid together)
    turned edge, lying: 2 + 2 (both pieces with both allowances between them)
    overcast seam, under the foot: 1 + 1 (both sides laid together)
    overcast seam, lying: 1 + 2 (the piece below with both allowances on it)
    French seam, under the foot: 1 + 1 (both sides laid together)
    French seam, under the foot, second row: 2 + 2 (both pieces with both trimmed edges between them; the needle itself goes through the two pieces)
    French seam, lying: 2 + 3 (the four layers that stand off, laid on one piece)
    felled seam, under the foot: 1 + 1 (both sides laid together)
    felled seam, under the foot, second row: 2 + 2 (one allowance folded round the other, on the piece below)
    felled seam, lying: 2 + 2 (one allowance folded round the other, on the piece below)
    bound seam, under the foot: 1 + 1 (both sides laid together)
    bound seam, under the foot, second row: 1 + 1 + 4 of the strip (both allowances with two layers of the strip on either side)
    bound seam, lying: 1 + 2 + 4 of the strip (both allowances and four layers of the strip, laid on one piece)
    lapped seam, under the foot: 2 + 1 (side a with its allowance turned under, on the allowance of side b)
    lapped seam, lying: 2 + 1 (side a with its allowance turned under, on the allowance of side b)
    bound edge, under the foot: 1 + 4 (the edge with two layers of the binding on either side)
    hem, turned once, under the foot: 2 + 0 (the piece and its allowance turned once)
    hem, turned twice, under the foot: 3 + 0 (the piece and its allowance turned twice)
    faced edge, under the foot: 1 + 0 + 1 of the strip (both sides laid together)
    faced edge, lying: 2 + 0 + 2 of the strip (both pieces with both allowances between them)
    turned corner, lying: 4 + 4 (each piece with the allowances of both edges, and the bit beyond both folded twice)
    ");
}

#[test]
fn a_strip_is_counted_as_the_strip() {
    let bound = sections(
        Work::Seam(SeamKind::Bound, Lies::OnB),
        Widths { a: 6.0, b: 6.0 },
    );
    let strips = bound[1].1.runs.iter().filter(|r| r.of == Of::Strip).count();
    assert_eq!(strips, 4);
}
