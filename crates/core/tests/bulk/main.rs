//! Stacks of cloth against hand counts, an independent folder of cloth, published facts and laws.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

mod facts;
mod folder;
mod jacket;
mod laws;
mod small;
mod small_garments;
mod turned;

use petitoile_core::bulk::{Bulk, Judged, bulk};
use petitoile_core::cloth::Cloth;
use petitoile_core::finish::Finished;
use petitoile_core::garment::Garment;
use petitoile_core::machine::Machine;
use petitoile_core::piece::Role;
use petitoile_core::units::{LengthUnit, Mm};

fn cloth(thickness: f64) -> Cloth {
    Cloth {
        name: "quilting cotton".to_owned(),
        thickness: Mm(thickness),
        source: String::new(),
    }
}

fn made(mut garment: Garment, cloths: &[(Role, f64)]) -> Finished {
    for (role, thickness) in cloths {
        garment.cloths.insert(*role, cloth(*thickness));
    }
    small_garments::finished(garment)
}

fn reckoned(finished: &Finished) -> Bulk {
    bulk(finished, None, &Machine::default(), LengthUnit::Millimetre)
}

/// The stack of this name that meets these.
fn stack<'a>(bulk: &'a Bulk, name: &str, meets: &[&str]) -> &'a Judged {
    let mut wanted: Vec<&str> = meets.to_vec();
    wanted.sort_unstable();
    let is_it = |judged: &&Judged| {
        let mut met: Vec<&str> = judged.stack.meets.iter().map(String::as_str).collect();
        met.sort_unstable();
        judged.stack.name == name && met == wanted
    };
    bulk.stacks.iter().find(is_it).unwrap_or_else(|| {
        let all: Vec<(&str, &Vec<String>)> = bulk
            .stacks
            .iter()
            .map(|s| (s.stack.name.as_str(), &s.stack.meets))
            .collect();
        panic!("no stack {name} {meets:?} among {all:?}")
    })
}

/// Layers under the foot, and as it lies.
fn layers(judged: &Judged) -> (u32, u32) {
    let sewn = judged.stack.sewn().map_or(0, |heap| heap.count);
    (sewn, judged.stack.lying().map_or(0, |heap| heap.count))
}
