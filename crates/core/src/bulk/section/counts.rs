//! The table of layer counts, read off the sections, and why there are so many.

use super::{Cover, Lies, Moment, Widths, Work, sections};
use crate::seams::SeamKind;

/// Every kind of seam.
pub const KINDS: [SeamKind; 6] = [
    SeamKind::Plain,
    SeamKind::Overedged,
    SeamKind::French,
    SeamKind::Felled,
    SeamKind::Bound,
    SeamKind::Lapped,
];

/// One row of the table of layer counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CountRow {
    /// What is sewn.
    pub work: Work,
    /// When.
    pub moment: Moment,
    /// Layers at the thickest place.
    pub cover: Cover,
    /// Why so many.
    pub why: &'static str,
}

/// The table of layer counts, read off the sections for allowances of 6 mm.
pub fn table() -> Vec<CountRow> {
    let w = Widths { a: 6.0, b: 6.0 };
    let works = KINDS.into_iter().flat_map(|kind| {
        let lies: &[Lies] = match kind {
            SeamKind::Plain => &[Lies::Open, Lies::OnB, Lies::Turned],
            _ => &[Lies::OnB],
        };
        lies.iter().map(move |lies| Work::Seam(kind, *lies))
    });
    let others = [
        Work::BoundEdge,
        Work::Hem { turns: 1 },
        Work::Hem { turns: 2 },
        Work::Faced,
        Work::Corner,
    ];
    works
        .chain(others)
        .flat_map(|work| {
            sections(work, w)
                .into_iter()
                .filter_map(move |(moment, section)| {
                    let (cover, _) = section.thickest(1.0, 1.0, 1.0)?;
                    let why = why(work, moment);
                    Some(CountRow {
                        work,
                        moment,
                        cover,
                        why,
                    })
                })
        })
        .collect()
}

/// Why a work has as many layers as it has, one line.
pub fn why(work: Work, moment: Moment) -> &'static str {
    match (work, moment) {
        (Work::Seam(SeamKind::Lapped, _), _) => {
            "side a with its allowance turned under, on the allowance of side b"
        }
        (Work::Seam(_, _) | Work::Faced, Moment::Sewn) => "both sides laid together",
        (Work::Seam(SeamKind::Plain, Lies::Open), _) => {
            "each piece with its own allowance pressed back on it"
        }
        (Work::Seam(SeamKind::Plain | SeamKind::Overedged, Lies::Turned) | Work::Faced, _) => {
            "both pieces with both allowances between them"
        }
        (Work::Seam(SeamKind::Plain | SeamKind::Overedged, _), _) => {
            "the piece below with both allowances on it"
        }
        (Work::Seam(SeamKind::French, _), Moment::Second) => {
            "both pieces with both trimmed edges between them; the needle itself goes through the two pieces"
        }
        (Work::Seam(SeamKind::French, _), _) => "the four layers that stand off, laid on one piece",
        (Work::Seam(SeamKind::Felled, _), _) => {
            "one allowance folded round the other, on the piece below"
        }
        (Work::Seam(SeamKind::Bound, _), Moment::Second) => {
            "both allowances with two layers of the strip on either side"
        }
        (Work::Seam(SeamKind::Bound, _), _) => {
            "both allowances and four layers of the strip, laid on one piece"
        }
        (Work::BoundEdge, _) => "the edge with two layers of the binding on either side",
        (Work::Hem { turns: 0 | 1 }, _) => "the piece and its allowance turned once",
        (Work::Hem { .. }, _) => "the piece and its allowance turned twice",
        (Work::Corner, _) => {
            "each piece with the allowances of both edges, and the bit beyond both folded twice"
        }
    }
}

/// Class of a seam in ISO 4916, with its name; the numbers behind the class are left out: no source for them was read.
///
/// # Source
/// Names of the eight classes: fact sheet E1, key S27. Which class a seam belongs to follows from what the name says.
pub fn iso_class(work: Work) -> Option<(u8, &'static str)> {
    match work {
        Work::Seam(SeamKind::Plain | SeamKind::French, _) => Some((1, "superimposed")),
        Work::Seam(SeamKind::Felled | SeamKind::Lapped, _) => Some((2, "lapped")),
        Work::Seam(SeamKind::Bound, _) | Work::BoundEdge => Some((3, "bound")),
        Work::Hem { .. } => Some((6, "edge finish")),
        Work::Seam(SeamKind::Overedged, _) | Work::Faced | Work::Corner => None,
    }
}
