//! Undo through the door the window uses: changes by chance, taken back to the start and made again to the end, with the
//! same bytes in the project file at every step.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use petitoile::command::Command;
use petitoile::demos;
use petitoile::session::{On, Session};
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, SeamChange};
use petitoile_core::edge::EdgeRef;
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::making_order::{By, LiningMethod};
use petitoile_core::measure::Measure;
use petitoile_core::seams::SeamKind;
use petitoile_exchange::project_file;

const CHANGES: usize = 60;

/// A small generator of numbers (a linear congruence; the factor is from memory).
struct Chance(u64);

impl Chance {
    fn below(&mut self, count: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        ((self.0 >> 33) as usize) % count.max(1)
    }

    fn mm(&mut self) -> Mm {
        Mm(self.below(41) as f64 / 10.0 - 2.0)
    }
}

fn bytes(session: &Session) -> String {
    project_file::write(session.project()).unwrap()
}

fn by_hand(chance: &mut Chance, session: &Session) -> Option<Command> {
    let garment = session.on_table()?;
    let piece = &garment.pieces[chance.below(garment.pieces.len())];
    let edges = piece.outline.edges();
    let edge = EdgeRef::new(&piece.name, &edges[chance.below(edges.len())].name);
    let alteration = match chance.below(5) {
        0 => Alteration::MoveEdge {
            edge,
            outwards: chance.mm(),
        },
        1 => Alteration::MoveCorner {
            edge,
            right: chance.mm(),
            up: chance.mm(),
        },
        2 => Alteration::LengthenAt {
            piece: piece.name.clone(),
            level: piece.body_lines.first()?.level,
            by: chance.mm(),
        },
        3 => Alteration::Seam(SeamChange::Unpick {
            seam: garment.seams.first()?.name.clone(),
        }),
        _ => Alteration::Seam(SeamChange::SetKind {
            seam: garment.seams.last()?.name.clone(),
            kind: [SeamKind::French, SeamKind::Bound, SeamKind::Plain][chance.below(3)],
        }),
    };
    Some(Command::Alter(alteration))
}

fn of_fitting(chance: &mut Chance, session: &Session) -> Option<Command> {
    let fitting = session.fitting()?.name.clone();
    let change = match chance.below(7) {
        0 => FittingEdit::SetSeamAllowance(Mm(3.0 + chance.below(8) as f64)),
        1 => FittingEdit::SetHem(Mm(4.0 + chance.below(9) as f64)),
        2 => FittingEdit::SetMeasure(Measure::WaistGirth, Mm(200.0 + chance.below(80) as f64)),
        3 => FittingEdit::Tick(format!("step {}", chance.below(4)), true),
        4 => FittingEdit::SetBy(
            format!("step {}", chance.below(4)),
            [Some(By::Hand), Some(By::Machine), None][chance.below(3)],
        ),
        5 => FittingEdit::SetLining(LiningMethod::ALL.get(chance.below(5)).copied()),
        _ => FittingEdit::MoveStep {
            step: format!("step {}", chance.below(4)),
            before: None,
        },
    };
    Some(Command::Edit(Edit::Fitting { fitting, change }))
}

#[test]
fn what_is_undone_to_the_start_and_made_again_is_the_same_to_the_byte() {
    for (seed, demo) in ["harbour-jacket", "sunday-skirts", "net-menders-smock"]
        .into_iter()
        .enumerate()
    {
        let mut chance = Chance(seed as u64 + 1912);
        let mut session = Session::for_tests(demos::named(demo).unwrap());
        let mut reached = vec![bytes(&session)];
        let (mut of_garment, mut of_steps) = (0, 0);
        for _ in 0..CHANGES {
            session.apply(Command::On(if chance.below(2) == 0 {
                On::Garment
            } else {
                On::Fitting
            }));
            let asked = if chance.below(3) == 0 {
                of_fitting(&mut chance, &session)
            } else {
                by_hand(&mut chance, &session)
            };
            let steps = session.history.steps();
            let Some(asked) = asked else { continue };
            session.apply(asked);
            if session.history.steps() > steps {
                reached.push(bytes(&session));
                match session.history.last().unwrap() {
                    Edit::Alter { .. } => of_garment += 1,
                    _ => of_steps += 1,
                }
            }
        }
        assert!(
            of_garment > 5 && of_steps > 10,
            "{demo}: {of_garment} on the garment, {of_steps} on the fitting"
        );
        for before in reached.iter().rev().skip(1) {
            session.apply(Command::Undo);
            assert!(bytes(&session) == *before, "{demo}: undo");
        }
        assert_eq!(session.history.steps(), 0, "{demo}: all is undone");
        for after in reached.iter().skip(1) {
            session.apply(Command::Redo);
            assert!(bytes(&session) == *after, "{demo}: redo");
        }
    }
}
