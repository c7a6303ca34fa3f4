//! More than 10,000 mutated files through the whole way of bringing in: read, pages joined, pieces recognised; pictures
//! read and traced. No panic, and for each of them alone: no more than [`SECONDS`], no more than [`BYTES`] beyond what
//! was held before.
//!
//! The same mutants every time. Memory is counted by the allocator of this program, so it is the same on every machine.
//! Time is that of the processor, not that of the clock on the wall: where several programs share a machine, the wall
//! tells how busy it is and not how long a file takes. Both are of the whole process, so the tests of this program go one
//! by one ([`Watched`] holds the turn).
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

mod changes;
#[path = "../common/mod.rs"]
mod common;
mod drawings;
mod pages;
mod pictures;

use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use cpu_time::ProcessTime;
use peak_alloc::PeakAlloc;
use petitoile_core::body::{Body, BodyKind};
use petitoile_exchange::bring_in::recognise::{Choices, garment, recognise};
use petitoile_exchange::bring_in::scale::scale_check;
use petitoile_exchange::bring_in::sheets::{Matches, joined};
use petitoile_exchange::bring_in::{FoundDrawing, FoundSheet, Pace};

#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

static TURN: Mutex<()> = Mutex::new(());

/// Most time that one mutant may take.
const SECONDS: Duration = Duration::from_secs(2);

/// Most memory that one mutant may take.
const BYTES: usize = 512 << 20;

/// How many there are of each kind.
const SVG: usize = 3000;
const DXF: usize = 3000;
const PDF: usize = 3300;
const PICTURES: usize = 2500;

// Said where it cannot be overlooked: fewer do not compile.
const _: () = assert!(SVG + DXF + PDF + PICTURES >= 10_000);

/// What mutants take, each for itself.
struct Watched {
    kind: &'static str,
    most: Duration,
    seen: usize,
    longest: Duration,
    largest: usize,
    _turn: MutexGuard<'static, ()>,
}

impl Watched {
    /// Waits for its turn: a test takes it before it does anything else.
    fn new(kind: &'static str) -> Self {
        Self {
            kind,
            most: SECONDS,
            seen: 0,
            longest: Duration::ZERO,
            largest: 0,
            _turn: TURN.lock().unwrap_or_else(PoisonError::into_inner),
        }
    }

    /// Does the work on one mutant and holds it against the bars.
    fn one<T>(&mut self, work: impl FnOnce() -> T) -> T {
        MEMORY.reset_peak_usage();
        let (held, from) = (MEMORY.current_usage(), ProcessTime::now());
        let made = work();
        let (took, peak) = (from.elapsed(), MEMORY.peak_usage().saturating_sub(held));
        let (kind, number) = (self.kind, self.seen);
        assert!(took < self.most, "{kind}, mutant {number} took {took:?}");
        assert!(peak < BYTES, "{kind}, mutant {number} took {peak} bytes");
        self.seen += 1;
        self.longest = self.longest.max(took);
        self.largest = self.largest.max(peak);
        made
    }

    /// Were there as many as were announced, and was anything measured at all?
    fn ends(self, announced: usize) {
        assert_eq!(self.seen, announced, "{}", self.kind);
        assert!(self.largest > 1000, "no memory was counted");
        assert!(self.longest > Duration::ZERO, "no time was counted");
    }
}

#[test]
#[should_panic(expected = "runaway, mutant 1 took")]
fn memory_beyond_the_bar_is_told() {
    let mut watched = Watched::new("runaway");
    watched.one(|| drop(Vec::<u8>::with_capacity(BYTES - (1 << 20))));
    watched.one(|| drop(Vec::<u8>::with_capacity(BYTES)));
}

#[test]
#[should_panic(expected = "endless, mutant 0 took")]
fn time_beyond_the_bar_is_told() {
    let mut watched = Watched::new("endless");
    watched.most = Duration::from_millis(5);
    watched.one(|| {
        let from = ProcessTime::now();
        while from.elapsed() < Duration::from_millis(6) {}
    });
}

/// The whole way of a drawing: its pages joined, its scale looked for, its pieces recognised and made a garment.
fn whole_way(found: &FoundDrawing) {
    assert!(!found.sheets.is_empty());
    if let [only] = found.sheets.as_slice() {
        pieces(only);
    } else {
        let places = Matches::of(found, &Pace::default())
            .unwrap()
            .proposed(found, &Pace::default())
            .unwrap();
        let sheet = joined(found, &places, 0.5, &Pace::default()).unwrap().sheet;
        assert!(sheet.lines.iter().all(|line| line.path.is_finite()));
        pieces(&sheet);
    }
}

/// Every line, text and point is in a piece or told to be in none.
fn pieces(sheet: &FoundSheet) {
    let _ = scale_check(sheet);
    let recognised = recognise(sheet, &Choices::default());
    let made_of = recognised.pieces.iter().flat_map(|p| &p.made_of);
    let mut told: Vec<_> = made_of.copied().collect();
    told.extend(recognised.left.iter().map(|left| left.thing));
    told.sort();
    told.dedup();
    let all = sheet.lines.len() + sheet.texts.len() + sheet.points.len();
    assert_eq!(told.len(), all, "something is neither used nor told");
    let made = garment(
        &recognised,
        "mutant",
        Arc::new(Body::new("not known", BodyKind::Woman)),
    );
    assert_eq!(made.pieces.len(), recognised.pieces.len());
}
