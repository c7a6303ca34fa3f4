//! What each step says: one short sentence in the imperative, and notes with figures below it.

mod pieced;
mod sewn;

use sewn::seam_sentence;

use super::Basis;
use super::curves::listed;
use super::pressing;
use super::side::{copies_words, role_word, side_of};
use crate::closure::Closure;
use crate::edge::Finish;
use crate::finish::Finished;
use crate::fullness::Fullness;
use crate::making_order::{By, Step, Work};
use crate::notch::NotchKind;
use crate::piece::{Piece, Role};
use crate::seams::{Relation, Seam, side_length};
use crate::units::{LengthUnit, Mm};

/// What stands on the sheet for one step.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Says {
    /// One short sentence in the imperative.
    pub sentence: String,
    /// Notches, allowances: one matter each.
    pub notes: Vec<String>,
    /// How it is pressed, where that is not what the order says.
    pub press: Option<String>,
}

/// Everything the words are made from.
pub(super) struct Speaker<'a> {
    pub basis: &'a Basis<'a>,
    pub finished: &'a Finished,
    pub unit: LengthUnit,
}

impl Speaker<'_> {
    /// The words of a step.
    pub(super) fn says(&self, step: &Step) -> Says {
        let copies = copies_words(&step.copies);
        let edges = edges_of(step, &copies);
        let plain = |sentence: String| Says {
            sentence,
            ..Says::default()
        };
        let mut says = match &step.work {
            Work::CutOut => self.cut_out(),
            Work::PieceTogether {
                of,
                kind,
                parts,
                allowance,
            } => pieced::says(of, *kind, *parts, *allowance, self.unit),
            Work::FlatLine => self.flat_line(step, &copies),
            Work::Dart { dart } => self.dart(step, dart, &copies),
            Work::Tucks { edge } => self.fold(step, edge, "Sew the tucks", &copies),
            Work::Pleats { edge } => self.fold(step, edge, "Fold and baste the pleats", &copies),
            Work::Gather { edge } => self.gather(step, edge, &copies),
            Work::Seam { seam } => self.seam(step, seam, &copies),
            Work::Hem => self.hem(step, &edges),
            Work::Casing => self.casing(step, &edges),
            Work::Face => self.face(step, &edges),
            Work::Slit => self.slit(step, &edges),
            // All that stays raw is overcast in one sitting: more edges than a sentence holds.
            Work::Neaten if step.edges.len() > 3 => plain(format!(
                "Overcast the edges of {copies} that stay raw inside."
            )),
            Work::Neaten => plain(format!("Overcast the raw {edges}.")),
            Work::Turn { through } => plain(format!(
                "Turn it right side out through the {through}; push the corners out with a blunt point."
            )),
            Work::CloseGap => plain(format!("Close the gap in the {edges} by hand.")),
            Work::Fell { at } => plain(format!(
                "Fell the lining by hand to the wrong side at the {at}."
            )),
            Work::Closure { opening } => self.closure(opening, step),
            Work::Press if copies.is_empty() => {
                plain("Press the whole garment from the wrong side.".to_owned())
            }
            Work::Press => plain(format!("Press {copies} from the wrong side.")),
            Work::TryOn => plain(
                "Try it on the body, right side out; mark with pins what must change.".to_owned(),
            ),
        };
        says.notes.extend(self.notches(step));
        says
    }

    fn piece(&self, name: &str) -> Option<&Piece> {
        let pieces = self.finished.pieces.iter();
        pieces
            .map(|piece| &*piece.piece)
            .find(|piece| piece.name == name)
    }

    fn cut_out(&self) -> Says {
        let copies: usize = self
            .finished
            .pieces
            .iter()
            .map(|piece| piece.piece.copies.len())
            .sum();
        let rows = super::cutting_list(self.finished);
        let more: usize = rows.iter().map(|row| row.parts - row.count).sum();
        let copies = copies + more;
        Says {
            sentence: format!(
                "Cut out {copies} {}, mark notches, dots and stitch lines on the wrong side.",
                if copies == 1 { "piece" } else { "pieces" }
            ),
            notes: pieced::parts_note(&rows)
                .into_iter()
                .chain(["Grain along the arrow; turn the paper over for left pieces.".to_owned()])
                .collect(),
            press: None,
        }
    }

    fn flat_line(&self, step: &Step, copies: &str) -> Says {
        let role = step
            .copies
            .iter()
            .map(|(_, copy)| copy.role)
            .find(|role| *role != Role::Shell)
            .unwrap_or(Role::FlatLined);
        let shell: Vec<_> = step
            .copies
            .iter()
            .filter(|(_, copy)| copy.role == Role::Shell)
            .cloned()
            .collect();
        let onto = if shell.is_empty() {
            copies.to_owned()
        } else {
            copies_words(&shell)
        };
        Says {
            sentence: format!(
                "Lay the {} on the wrong side of {onto} and baste them as one.",
                role_word(role)
            ),
            notes: vec!["Baste inside the seam allowance.".to_owned()],
            press: None,
        }
    }

    fn dart(&self, step: &Step, dart: &str, copies: &str) -> Says {
        let found = step.copies.iter().find_map(|(name, _)| {
            let piece = self.piece(name)?;
            let dart = piece.darts.iter().find(|own| own.name == dart)?;
            Some((piece, dart))
        });
        let (mut notes, mut press) = (Vec::new(), None);
        if let Some((piece, dart)) = found {
            if let Some(leg) = piece.outline.edge(&dart.leg_in) {
                notes.push(format!(
                    "Leg {}; tie the threads off at the point.",
                    self.unit.show(Mm(leg.line.length()))
                ));
            }
            press = Some(pressing::dart(piece, dart));
        }
        Says {
            sentence: format!(
                "Fold {copies}, right side inside, and sew the {dart} from the edge to the point."
            ),
            notes,
            press,
        }
    }

    /// Pleats and tucks.
    fn fold(&self, step: &Step, edge: &str, verb: &str, copies: &str) -> Says {
        let op = self.op(step, edge, |fullness| fullness.kind().is_counted());
        let notes = op
            .map(|(fullness, to)| {
                format!("{}, to {}.", fullness.words(self.unit), self.unit.show(to))
            })
            .into_iter()
            .chain(["Press them before the next seam crosses them.".to_owned()])
            .collect();
        Says {
            sentence: format!("{verb} at the {edge} of {copies}."),
            notes,
            press: None,
        }
    }

    fn gather(&self, step: &Step, edge: &str, copies: &str) -> Says {
        let is_drawn = |fullness: &Fullness| !fullness.kind().is_counted();
        let to = self
            .op(step, edge, is_drawn)
            .map(|(_, to)| to)
            .or_else(|| self.mate_of(step, edge));
        let rows = "Run two rows of long stitches inside the allowance, draw up both, tie off.";
        let to = to.map_or_else(String::new, |to| format!(" to {}", self.unit.show(to)));
        Says {
            sentence: format!("Gather the {edge} of {copies}{to}."),
            notes: vec![rows.to_owned()],
            press: None,
        }
    }

    /// The fullness on an edge of the step's piece and the length it is sewn to, both halves counted.
    fn op(
        &self,
        step: &Step,
        edge: &str,
        wanted: impl Fn(&Fullness) -> bool,
    ) -> Option<(Fullness, Mm)> {
        step.copies.iter().find_map(|(name, _)| {
            let adapted = &self.finished.filled.adapted;
            let piece = adapted.pieces.iter().find(|piece| piece.name == *name)?;
            let op = piece
                .fullness
                .iter()
                .find(|op| op.edge == edge && wanted(&op.fullness))?;
            let line = &piece.outline.edge(edge)?.line;
            let half = line.length() * (op.to - op.from).abs();
            let halves = if meets_fold(piece, edge) { 2.0 } else { 1.0 };
            Some((op.fullness, Mm(half * halves)))
        })
    }

    /// Length of the shorter side of the seam that draws in this edge.
    fn mate_of(&self, step: &Step, edge: &str) -> Option<Mm> {
        let adapted = &self.finished.filled.adapted;
        let piece = &step.copies.first()?.0;
        let seam = adapted.made.seams.iter().find(|seam| {
            matches!(seam.relation, Relation::Ratio(ratio) if ratio > 1.0)
                && seam.a.iter().any(|s| s.piece == *piece && s.edge == edge)
        })?;
        // Of a side with several edges, this edge's share.
        let all = side_length(&seam.a, &adapted.pieces).ok()?;
        let own: f64 = seam
            .a
            .iter()
            .filter(|s| s.piece == *piece && s.edge == edge)
            .filter_map(|s| s.length(&adapted.pieces).ok())
            .map(|length| length.0)
            .sum();
        let other = side_length(&seam.b, &adapted.pieces).ok()?;
        let on_fold = adapted
            .pieces
            .iter()
            .find(|p| p.name == *piece)
            .is_some_and(|p| meets_fold(p, edge));
        let halves = if on_fold { 2.0 } else { 1.0 };
        (all.0 > 0.0).then(|| Mm(other.0 * own / all.0 * halves))
    }

    fn seam(&self, step: &Step, name: &str, copies: &str) -> Says {
        let adapted = &self.finished.filled.adapted;
        let Some(seam) = adapted.made.seams.iter().find(|seam| seam.name == name) else {
            return Says {
                sentence: format!("Sew the {name}: {copies}."),
                ..Says::default()
            };
        };
        let allowance = self.allowance(seam);
        let mut notes = Vec::new();
        if let Some(width) = allowance {
            notes.push(format!("Allowance {}.", self.unit.show_chosen(width)));
        }
        match seam.relation {
            Relation::Eased(by) if by.0 > 0.0 => {
                notes.push(format!("Ease in {}.", self.unit.show(by)));
            }
            Relation::Ratio(ratio) if ratio > 1.0 => {
                notes.push("Spread the gathers evenly, pin, baste.".to_owned());
            }
            _ => {}
        }
        for insert in &seam.inserts {
            notes.push(format!("Catch the {} in it.", insert.name));
        }
        let press = pressing::seam(seam.kind, seam.relation, allowance, self.unit);
        Says {
            sentence: seam_sentence(seam, side_of(step)),
            notes,
            press: Some(press),
        }
    }

    /// The allowance of a seam: the wider of its two sides, where they differ.
    fn allowance(&self, seam: &Seam) -> Option<Mm> {
        seam.a
            .iter()
            .chain(&seam.b)
            .filter_map(|stretch| {
                let piece = self
                    .finished
                    .pieces
                    .iter()
                    .find(|piece| piece.piece.name == stretch.piece)?;
                let at = piece.piece.outline.index_of(&stretch.edge)?;
                piece.allowances.get(at).copied()
            })
            .reduce(|a, b| if a.0 < b.0 { b } else { a })
    }

    /// Finish of the first edge of a step that is finished like this, with its allowance.
    fn finish<T>(&self, step: &Step, of: impl Fn(Finish) -> Option<T>) -> Option<(T, Mm)> {
        step.edges.iter().find_map(|at| {
            let piece = self
                .finished
                .pieces
                .iter()
                .find(|piece| piece.piece.name == at.piece)?;
            let index = piece.piece.outline.index_of(&at.edge)?;
            let edge = piece.piece.outline.edges().get(index)?;
            let own = edge.finish.iter().find_map(|stretch| of(stretch.finish))?;
            Some((own, piece.allowances.get(index).copied()?))
        })
    }

    fn hem(&self, step: &Step, edges: &str) -> Says {
        let found = self.finish(step, |finish| match finish {
            Finish::Hem { turns, .. } => Some(turns),
            _ => None,
        });
        let how = match found {
            Some((turns, all)) if turns >= 2 => format!(
                "{} twice",
                self.unit.show_chosen(Mm(all.0 / f64::from(turns)))
            ),
            Some((_, all)) => self.unit.show_chosen(all),
            None => String::new(),
        };
        let sewn = match step.by {
            By::Hand => "slip-stitch it by hand",
            By::Machine => "sew it down along the fold",
        };
        Says {
            sentence: format!("Turn the {edges} {how} to the wrong side and {sewn}.")
                .replace("  ", " "),
            notes: Vec::new(),
            press: None,
        }
    }

    fn casing(&self, step: &Step, edges: &str) -> Says {
        let width = self.finish(step, |finish| match finish {
            Finish::Casing { width } => Some(width),
            _ => None,
        });
        let width = width.map_or_else(String::new, |(width, _)| {
            format!(" {}", self.unit.show_chosen(width))
        });
        Says {
            sentence: format!(
                "Turn the {edges}{width} to the wrong side as a casing and sew it down."
            ),
            notes: vec![
                "Leave a gap to draw the elastic or cord through; close it afterwards.".to_owned(),
            ],
            press: None,
        }
    }

    fn face(&self, step: &Step, edges: &str) -> Says {
        let allowance = self.finish(step, |finish| (finish == Finish::Facing).then_some(()));
        let mut notes = vec![
            "Trim, clip as the list of curves says, turn, roll the seam a thread to the wrong side."
                .to_owned(),
        ];
        if let Some(((), width)) = allowance {
            notes.insert(0, format!("Allowance {}.", self.unit.show_chosen(width)));
        }
        Says {
            sentence: format!(
                "Sew the facing to the {edges}, right sides together, and turn it to the wrong side."
            ),
            notes,
            press: None,
        }
    }

    fn slit(&self, step: &Step, edges: &str) -> Says {
        let placket = self.finish(step, |finish| match finish {
            Finish::Placket { width } => Some(width),
            _ => None,
        });
        let sentence = match placket {
            Some((width, _)) => format!(
                "Turn the {edges} {} to the wrong side as a placket and sew it down.",
                self.unit.show_chosen(width)
            ),
            None => {
                let slit = self.finish(step, |finish| (finish == Finish::Slit).then_some(()));
                let width = slit.map_or_else(String::new, |((), all)| {
                    format!(" {} twice", self.unit.show_chosen(Mm(all.0 / 2.0)))
                });
                format!("Turn the {edges}{width} to the wrong side and sew it down.")
            }
        };
        Says {
            sentence,
            notes: vec!["Fasten the foot of the slit with a few stitches across.".to_owned()],
            press: None,
        }
    }

    fn closure(&self, opening: &str, step: &Step) -> Says {
        let rows = super::materials::of_opening(self.basis, opening);
        let used = super::materials::closed(self.basis, opening).and_then(|(_, c)| c.used());
        if used == Some(Closure::SewnShut) {
            return Says {
                sentence: format!("Dress the body and sew the {opening} opening shut."),
                notes: vec!["Small stitches that can be cut open again.".to_owned()],
                press: None,
            };
        }
        let what = if rows.is_empty() {
            "Sew on what closes".to_owned()
        } else {
            let words = rows.iter().map(|row| row.short(self.unit));
            format!("Sew {} to", listed(words))
        };
        let by = match step.by {
            By::Hand => " by hand",
            By::Machine => "",
        };
        Says {
            sentence: format!("{what} the {opening} opening{by}."),
            notes: vec!["Lap it as it is worn and mark both sides with pins first.".to_owned()],
            press: None,
        }
    }

    /// "Notches: front body side seam 1 at 35 mm from the armscye."
    fn notches(&self, step: &Step) -> Option<String> {
        if matches!(
            step.work,
            Work::CutOut | Work::PieceTogether { .. } | Work::Neaten | Work::Press | Work::TryOn
        ) {
            return None;
        }
        let mut words = Vec::new();
        for at in &step.edges {
            let Some(piece) = self.piece(&at.piece) else {
                continue;
            };
            let Some(edge) = piece.outline.edge(&at.edge) else {
                continue;
            };
            let own = piece.notches.iter().filter(|notch| notch.edge == at.edge);
            for notch in own {
                let kind = match notch.kind {
                    NotchKind::Single => "single",
                    NotchKind::Double => "double",
                    NotchKind::Triple => "triple",
                };
                words.push(format!(
                    "{kind} at {} on {} {}",
                    self.unit
                        .show_on_rule(Mm(notch.fraction * edge.line.length())),
                    at.piece,
                    at.edge
                ));
            }
        }
        words.dedup();
        (!words.is_empty()).then(|| format!("Match notches: {}.", listed(words)))
    }
}

/// "hem of left sleeve", "side seam and armscye of front".
fn edges_of(step: &Step, copies: &str) -> String {
    let mut names: Vec<String> = Vec::new();
    for edge in &step.edges {
        if !names.contains(&edge.edge) {
            names.push(edge.edge.clone());
        }
    }
    if names.is_empty() {
        format!("edges of {copies}")
    } else {
        format!("{} of {copies}", listed(names))
    }
}

/// Does an edge of a half run on over the fold into the other half?
pub(super) fn meets_fold(piece: &Piece, edge: &str) -> bool {
    let edges = piece.outline.edges();
    let around = edges.iter().zip(edges.iter().cycle().skip(1));
    piece.fold_edge().is_some_and(|fold| {
        around.into_iter().any(|(a, b)| {
            (a.name == edge && b.name == fold.name) || (a.name == fold.name && b.name == edge)
        })
    })
}
