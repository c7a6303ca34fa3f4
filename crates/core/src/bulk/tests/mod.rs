//! Tests of stacks, tubes and curves.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

mod folder;
mod jacket;
mod laws;
mod small;
mod turned;

use crate::bulk::{Bulk, Judged, bulk};
use crate::check::samples;
use crate::cloth::Cloth;
use crate::finish::Finished;
use crate::garment::Garment;
use crate::machine::Machine;
use crate::piece::Role;
use crate::units::{LengthUnit, Mm};

pub(super) fn cloth(thickness: f64) -> Cloth {
    Cloth {
        name: "quilting cotton".to_owned(),
        thickness: Mm(thickness),
        source: String::new(),
    }
}

pub(super) fn made(mut garment: Garment, cloths: &[(Role, f64)]) -> Finished {
    for (role, thickness) in cloths {
        garment.cloths.insert(*role, cloth(*thickness));
    }
    samples::finished(samples::adapted(garment, samples::doll("doll")))
}

pub(super) fn reckoned(finished: &Finished) -> Bulk {
    bulk(finished, None, &Machine::default(), LengthUnit::Millimetre)
}

/// The stack of this name that meets these.
pub(super) fn stack<'a>(bulk: &'a Bulk, name: &str, meets: &[&str]) -> &'a Judged {
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
pub(super) fn layers(judged: &Judged) -> (u32, u32) {
    let sewn = judged.stack.sewn().map_or(0, |heap| heap.count);
    (sewn, judged.stack.lying().map_or(0, |heap| heap.count))
}
