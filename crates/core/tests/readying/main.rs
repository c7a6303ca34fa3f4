//! Readying: bare pieces become garments that can be adapted.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod bare;
mod bodies;

use petitoile_core::readying::{Answers, accept_all, is_ready, propose, readied};

use bare::{AS_A_DRAWING, AS_DRAWN, SHUFFLED, bare, garments};
use bodies::known;

#[test]
fn explore() {
    let mut out = String::new();
    for garment in garments() {
        for (coming, seed) in [(AS_DRAWN, 1), (SHUFFLED, 2), (AS_A_DRAWING, 3)] {
            let bare = bare(&garment, coming, seed);
            let start = std::time::Instant::now();
            let proposal = propose(&bare.garment, &known(), &Answers::default());
            let took = start.elapsed();
            out += &format!("\n=== {} {:?} {took:?}\n", garment.name, coming);
            for item in &proposal.items {
                let place = item
                    .places
                    .first()
                    .map(|p| bare.pieces[&p.piece].clone())
                    .unwrap_or_default();
                out += &format!(
                    "  [{place}] {} ({:.2}) <- {}\n",
                    item.words, item.certainty, item.rests_on
                );
            }
            for lack in &proposal.lacking {
                out += &format!("  LACK {lack}\n");
            }
            let (answers, count) = accept_all(&proposal);
            let ready = readied(&bare.garment, &known(), &answers);
            out += &format!(
                "  count {count} ready {:?} refs {:?}\n",
                is_ready(&ready),
                ready.check_references()
            );
        }
    }
    std::fs::write("/tmp/ready.txt", out).unwrap();
}
