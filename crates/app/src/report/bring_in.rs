//! What was brought in, as one value, as text and as JSON: pieces, doubts, what was left out, what is still needed.

use std::collections::BTreeMap;

use petitoile_core::LengthUnit;
use petitoile_core::readying::Answer;
use petitoile_exchange::bring_in::{FoundDrawing, Kind, Scale};
use serde::Serialize;

use super::table::Table;
use crate::bring_in::work::Worked;
use crate::wording::{self, count};

/// Guesses less sure than this are told one by one.
const SURE: f64 = 0.95;
/// Most things left out that are told one by one; how many more there are is said.
const MOST_LEFT: usize = 40;

/// What was brought in.
#[derive(Debug, Clone, Serialize)]
pub struct BroughtIn {
    /// The garment's name.
    pub garment: String,
    /// What kind of file it was.
    pub kind: &'static str,
    /// Its pages.
    pub pages: usize,
    /// Why its scale is doubtful; null when the file gives real lengths.
    pub scale_taken: Option<String>,
    /// Its own squares and rulers against what they say.
    pub scale_marks: Vec<String>,
    /// What it should be multiplied by, across and up, so that they agree; null when it is true or says nothing.
    pub correction: Option<(f64, f64)>,
    /// The pieces.
    pub pieces: Vec<PieceRow>,
    /// Sizes told apart, the chosen one first.
    pub sizes: Vec<String>,
    /// Every guess that is in doubt, the least sure first.
    pub doubts: Vec<DoubtRow>,
    /// How many guesses are sure.
    pub sure: usize,
    /// What is in no piece, and what was in the file and is not in the drawing.
    pub left: Vec<String>,
    /// What is proposed to make it ready to adapt.
    pub proposed: Vec<ProposedRow>,
    /// How many proposals were accepted.
    pub accepted: usize,
    /// Can it be adapted?
    pub ready: bool,
    /// What it still needs.
    pub lacking: Vec<String>,
    /// Where it was saved.
    pub saved: Option<String>,
}

/// One piece.
#[derive(Debug, Clone, Serialize)]
pub struct PieceRow {
    /// Its name.
    pub name: String,
    /// "cut 2, 2 lining".
    pub cut: String,
    /// Across and along as it lies, mm.
    pub size: (f64, f64),
    /// How many edges.
    pub edges: usize,
}

/// A guess in doubt.
#[derive(Debug, Clone, Serialize)]
pub struct DoubtRow {
    /// Which piece.
    pub piece: Option<String>,
    /// What was guessed.
    pub words: String,
    /// How sure, 0 to 1.
    pub certainty: f64,
    /// What it rests on.
    pub rests_on: String,
    /// Where on the sheet, mm.
    pub at: (f64, f64),
}

/// A proposal.
#[derive(Debug, Clone, Serialize)]
pub struct ProposedRow {
    /// What sort.
    pub kind: &'static str,
    /// What is proposed.
    pub words: String,
    /// How sure, 0 to 1.
    pub certainty: f64,
    /// What it rests on.
    pub rests_on: String,
    /// Was it accepted?
    pub accepted: bool,
}

/// Equal words once, with how often, in the order of their first.
fn counted(all: &[String]) -> Vec<(&str, usize)> {
    let mut times: BTreeMap<&str, usize> = BTreeMap::new();
    let mut kinds: Vec<(&str, usize)> = Vec::new();
    for one in all {
        let count = times.entry(one).or_default();
        *count += 1;
        if *count == 1 {
            kinds.push((one, 0));
        }
    }
    for (kind, count) in &mut kinds {
        *count = times.get(kind).copied().unwrap_or_default();
    }
    kinds
}

impl BroughtIn {
    /// The outcome of bringing in.
    pub fn of(drawing: &FoundDrawing, worked: &Worked, accepted: usize, unit: LengthUnit) -> Self {
        let recognised = &worked.recognised;
        let mut doubts: Vec<DoubtRow> = recognised
            .guesses
            .iter()
            .filter(|guess| guess.certainty < SURE)
            .map(|guess| DoubtRow {
                piece: guess.piece.and_then(|id| {
                    let mut pieces = recognised.pieces.iter();
                    pieces.find(|p| p.id == id).map(|p| p.piece.name.clone())
                }),
                words: guess.words.clone(),
                certainty: guess.certainty,
                rests_on: guess.rests_on.clone(),
                at: (guess.at.x, guess.at.y),
            })
            .collect();
        doubts.sort_by(|a, b| a.certainty.total_cmp(&b.certainty));
        let pieces = recognised.pieces.iter().map(|piece| PieceRow {
            name: piece.piece.name.clone(),
            cut: wording::to_cut(&piece.piece),
            size: (piece.at.width(), piece.at.height()),
            edges: piece.piece.outline.edges().len(),
        });
        let left = drawing.left.iter().chain(&worked.joined.left);
        let left = left.map(|left| left.what.clone());
        let in_no_piece = recognised.left.iter().map(|left| left.what.clone());
        let proposed = worked.proposal.items.iter().map(|item| ProposedRow {
            kind: item.kind.label(),
            words: item.words.clone(),
            certainty: item.certainty,
            rests_on: item.rests_on.clone(),
            accepted: matches!(worked.choices.answers.to(&item.key), Some(Answer::Way(_))),
        });
        Self {
            garment: worked.readied.name.clone(),
            kind: match drawing.kind {
                Kind::Svg => "SVG",
                Kind::Dxf => "DXF",
                Kind::Pdf => "PDF",
                Kind::Picture => "picture",
            },
            pages: drawing.sheets.len(),
            scale_taken: match &drawing.scale {
                Scale::Given => None,
                Scale::Taken(why) => Some(why.clone()),
            },
            scale_marks: worked
                .says
                .measures
                .iter()
                .map(|measure| measure.in_words(unit))
                .collect(),
            correction: worked
                .says
                .correction
                .as_ref()
                .filter(|correction| correction.is_needed())
                .map(|correction| (correction.across, correction.up)),
            pieces: pieces.collect(),
            sizes: recognised
                .sizes
                .iter()
                .map(|size| format!("{}: {}", size.name, size.told_by))
                .collect(),
            sure: recognised.guesses.len() - doubts.len(),
            doubts,
            left: left.chain(in_no_piece).collect(),
            proposed: proposed.collect(),
            accepted,
            ready: worked.is_ready(),
            lacking: worked.lacking.clone(),
            saved: None,
        }
    }

    /// For a terminal.
    pub fn text(&self, unit: LengthUnit) -> String {
        let pages = count(self.pages, "page", "pages");
        let pieces = count(self.pieces.len(), "piece", "pieces");
        // "an SVG": it is spelt.
        let article = if self.kind == "SVG" { "an" } else { "a" };
        let kind = self.kind;
        let mut text = format!("{}: {pieces} of {article} {kind} ({pages})\n", self.garment);
        if let Some(why) = &self.scale_taken {
            text.push_str(&format!(
                "Scale: {why}; check it against something you can measure.\n"
            ));
        }
        for mark in &self.scale_marks {
            text.push_str(&format!("Scale: {mark}\n"));
        }
        if let Some((across, up)) = self.correction {
            text.push_str(&format!(
                "Out of scale: it should be {across:.4} times as wide and {up:.4} times as high; correct it with --larger.\n"
            ));
        }
        let mut table = Table::new(["piece", "size", "edges", "to cut"]);
        for piece in &self.pieces {
            let size = |mm: f64| unit.show_bare(petitoile_core::Mm(mm));
            table.row([
                piece.name.clone(),
                format!("{} x {}", size(piece.size.0), size(piece.size.1)),
                piece.edges.to_string(),
                piece.cut.clone(),
            ]);
        }
        text.push_str(&table.text());
        for size in &self.sizes {
            text.push_str(&format!("Size {size}\n"));
        }
        let sure = count(self.sure, "guess is", "guesses are");
        text.push_str(&format!("\n{sure} sure, {} in doubt\n", self.doubts.len()));
        for doubt in &self.doubts {
            let of = doubt
                .piece
                .as_ref()
                .map_or_else(String::new, |p| format!("{p}: "));
            let percent = doubt.certainty * 100.0;
            let rests_on = &doubt.rests_on;
            text.push_str(&format!(
                "  {percent:3.0} %  {of}{} at {:.0}, {:.0} mm ({rests_on})\n",
                doubt.words, doubt.at.0, doubt.at.1
            ));
        }
        if !self.left.is_empty() {
            text.push_str(&format!("\nIn no piece: {}\n", self.left.len()));
            let kinds = counted(&self.left);
            for (left, times) in kinds.iter().take(MOST_LEFT) {
                let times = if *times > 1 {
                    format!(" ({times} times)")
                } else {
                    String::new()
                };
                text.push_str(&format!("  {left}{times}\n"));
            }
            if kinds.len() > MOST_LEFT {
                text.push_str(&format!("  and {} more kinds\n", kinds.len() - MOST_LEFT));
            }
        }
        text.push_str("\nTo make it ready to adapt\n");
        for item in &self.proposed {
            let taken = if item.accepted {
                "accepted"
            } else {
                "proposed"
            };
            let percent = item.certainty * 100.0;
            text.push_str(&format!(
                "  {percent:3.0} %  {taken}: {} ({})\n",
                item.words, item.rests_on
            ));
        }
        if self.accepted > 0 {
            text.push_str(&format!("{} confirmations in all\n", self.accepted));
        }
        if self.ready {
            text.push_str("Ready to adapt.\n");
        } else {
            text.push_str("Still needed\n");
            for lacking in &self.lacking {
                text.push_str(&format!("  {lacking}\n"));
            }
            if self.accepted == 0 && !self.proposed.is_empty() {
                text.push_str(
                    "Look the proposals over in the window, or accept them all with --accept.\n",
                );
            }
        }
        if let Some(saved) = &self.saved {
            text.push_str(&format!("Saved in {saved}\n"));
        }
        text
    }
}
