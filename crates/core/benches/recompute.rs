//! The whole recompute of the Fit and Make trays for an outfit of 20 pieces: ease and figure, dressing with its findings,
//! order of work, stacks with theirs, layers over one another. Bar: under 5 ms. Beside it what is to be laid on cloth.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a benchmark"
)]

use std::hint::black_box;
use std::sync::Arc;

use criterion::{BatchSize, Criterion, criterion_group, criterion_main};
use petitoile_core::adapt::{Adapted, adapt_garment};
use petitoile_core::body::{Body, BodyKind, Measured};
use petitoile_core::drafts::wardrobe::{gored_sunday_skirt, harbour_jacket, net_menders_smock};
use petitoile_core::finish::{Finished, finish};
use petitoile_core::fit::Underneath;
use petitoile_core::fit::figure::figure;
use petitoile_core::fitting::Fitting;
use petitoile_core::fullness::fill;
use petitoile_core::layers::{Together, Worn, cover, rooms, underneath};
use petitoile_core::laying::{Hidden, to_lay};
use petitoile_core::machine::Machine;
use petitoile_core::making_order::order;
use petitoile_core::measure::Measure;
use petitoile_core::outfit::Outfit;
use petitoile_core::{LengthUnit, Mm, bulk, dressing, layers};

#[path = "../tests/kit/woman.rs"]
mod woman;

/// Smock, two gored skirts and a lined jacket on a 45 cm play doll: 7 + 4 + 4 + 5 pieces, 44 copies.
fn outfit() -> Vec<(Arc<Adapted>, Finished)> {
    let woman = woman::woman();
    let doll =
        Body::new("doll", BodyKind::Doll).with(Measure::Height, Measured::own_tape(Mm(457.0)));
    let doll = Arc::new(doll);
    let garments = [
        ("smock", net_menders_smock(&woman).unwrap()),
        ("underskirt", gored_sunday_skirt(&woman).unwrap()),
        ("skirt", gored_sunday_skirt(&woman).unwrap()),
        ("jacket", harbour_jacket(&woman).unwrap()),
    ];
    let all: Vec<_> = garments
        .into_iter()
        .map(|(name, garment)| {
            let fitting = Arc::new(Fitting::new(name, garment.name.clone(), doll.clone()));
            let adapted = Arc::new(adapt_garment(&Arc::new(garment), &fitting).unwrap());
            let finished = finish(&Arc::new(fill(&adapted).outcome)).outcome;
            (adapted, finished)
        })
        .collect();
    assert_eq!(all.iter().map(|(a, _)| a.pieces.len()).sum::<usize>(), 20);
    all
}

const UNIT: LengthUnit = LengthUnit::Millimetre;

fn fit(finished: &Finished) {
    let fitting = &finished.filled.adapted.fitting;
    black_box(figure(&finished.filled, &Underneath::of(fitting)));
}

fn dress(finished: &Finished) {
    let looked = dressing::dressing(&finished.filled, &[]);
    black_box(dressing::found(&finished.filled.adapted, &looked));
}

fn sew(finished: &Finished, machine: &Machine) {
    let adapted = &finished.filled.adapted;
    let order = order(&adapted.made, &adapted.fitting, machine, UNIT);
    let stacks = bulk::bulk(finished, Some(&order), machine, UNIT);
    black_box(bulk::findings(
        &stacks,
        &adapted.fitting.name,
        machine,
        UNIT,
    ));
    black_box(order);
}

/// All that is said of layers: what is under each garment, what shows, room, findings.
fn over_one_another(adapted: &[Arc<Adapted>], outfit: &Outfit, machine: &Machine) {
    let together = Together::new(outfit, |name| {
        let found = adapted.iter().find(|a| a.fitting.name == name);
        Ok(Arc::new(Worn::new(found.unwrap().clone())))
    });
    for place in 0..together.layers.len() {
        black_box((
            underneath(&together, place),
            cover(&together, place),
            rooms(&together, place),
        ));
    }
    let all = [together];
    for worn in adapted {
        black_box(layers::findings(&all, &worn.fitting.name, machine, UNIT));
    }
}

/// The outfit as it comes from adapting and finishing: nothing of it was looked at before.
struct Fresh {
    all: Vec<(Arc<Adapted>, Finished)>,
    outfit: Outfit,
    machine: Machine,
}

impl Fresh {
    fn new() -> Self {
        let all = outfit();
        let outfit = Outfit {
            name: "Sunday".to_owned(),
            layers: all.iter().map(|(a, _)| a.fitting.name.clone()).collect(),
            pads: Vec::new(),
        };
        Self {
            all,
            outfit,
            machine: Machine::default(),
        }
    }

    fn each(&self, look: impl Fn(&Finished)) {
        self.all.iter().for_each(|(_, finished)| look(finished));
    }

    fn layers(&self) {
        let adapted: Vec<Arc<Adapted>> = self.all.iter().map(|(a, _)| a.clone()).collect();
        over_one_another(&adapted, &self.outfit, &self.machine);
    }

    /// Fit, dressing, bulk and order.
    fn trays(&self) {
        self.each(|finished| {
            fit(finished);
            dress(finished);
            sew(finished, &self.machine);
        });
    }
}

fn recompute(c: &mut Criterion) {
    let mut bench = |name: &str, look: &dyn Fn(&Fresh)| {
        c.bench_function(&format!("20 pieces: {name}"), |b| {
            b.iter_batched_ref(Fresh::new, |fresh| look(fresh), BatchSize::PerIteration);
        });
    };
    bench("fit", &|fresh| fresh.each(fit));
    bench("dressing", &|fresh| fresh.each(dress));
    bench("what is to be laid", &|fresh| {
        fresh.each(|finished| {
            black_box(to_lay(finished, &Hidden::default(), UNIT));
        });
    });
    bench("order and bulk", &|fresh| {
        fresh.each(|finished| sew(finished, &fresh.machine));
    });
    bench("layers", &Fresh::layers);
    bench("fit, dressing, bulk and order", &Fresh::trays);
    bench("the same with layers", &|fresh| {
        fresh.trays();
        fresh.layers();
    });
}

criterion_group!(benches, recompute);
criterion_main!(benches);
