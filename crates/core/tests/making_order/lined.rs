//! Linings that were never sewn in, bags without a way out, and copies that are alike: what one change mends, what counts.

use petitoile_core::LengthUnit;
use petitoile_core::edge::Finish;
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::finding::{Finding, Gravity};
use petitoile_core::fitting::Fitting;
use petitoile_core::garment::Garment;
use petitoile_core::machine::Machine;
use petitoile_core::making_order::{Lies, LiningMethod, Order, Work, order};

use super::garments::{HEM, LINING, SHELL, back, fitting, garment, of, panel, seam, stretch, with};

fn sewn(garment: &Garment, fitting: &Fitting) -> Order {
    order(
        garment,
        fitting,
        &Machine::default(),
        LengthUnit::Millimetre,
    )
}

/// The garment and fitting after a remedy, its hand work made.
fn after(garment: &Garment, fitting: &Fitting, remedy: &Edit) -> (Garment, Fitting) {
    let (next, steps) = match remedy {
        Edit::Fitting {
            change: FittingEdit::AddAlterations(steps),
            ..
        } => (fitting.clone(), steps.clone()),
        Edit::Fitting {
            change: FittingEdit::AddAlteration(step),
            ..
        } => (fitting.clone(), vec![step.clone()]),
        Edit::Fitting {
            change: FittingEdit::SetLining(method),
            ..
        } => {
            let mut next = fitting.clone();
            next.making.lining = *method;
            (next, Vec::new())
        }
        other => panic!("{other:?}"),
    };
    let made = steps.iter().fold(garment.clone(), |made, step| {
        step.applied(&made).unwrap().garment
    });
    (made, next)
}

fn told<'a>(order: &'a Order, words: &str) -> Option<&'a Finding> {
    order.findings.iter().find(|f| f.what.contains(words))
}

/// A bib whose top and sides are faced and whose hem is hemmed; its lining is cut, but sewn to nothing.
fn bib() -> Garment {
    let mut bib = with(panel("bib", 80.0, 60.0), "hem", HEM);
    for edge in ["right", "top", "left"] {
        bib = with(bib, edge, Finish::Facing);
    }
    bib.copies = vec![SHELL, LINING];
    garment(vec![bib], Vec::new())
}

#[test]
fn a_lining_to_be_bagged_that_is_sewn_nowhere_gets_its_seams_in_one_change() {
    let garment = bib();
    let mut fitting = fitting(&garment);
    fitting.making.lining = Some(LiningMethod::Bagged);
    let order = sewn(&garment, &fitting);
    let found = told(&order, "no seam joins them").unwrap();
    insta::assert_snapshot!(found, @"bib, right: a bagged lining is sewn to the shell, but no seam joins them; 200 mm of edge are free on both: bib, right; bib, top; bib, left. Sew shell and lining together along these edges, or fell the lining in.");
    let (made, next) = after(&garment, &fitting, found.remedy.as_ref().unwrap());
    let then = sewn(&made, &next);
    assert!(told(&then, "no seam joins them").is_none());
    assert_eq!(then.lining, Some(LiningMethod::Bagged));
    for edge in ["right", "top", "left"] {
        let key = format!("sew {edge} of bib to its lining");
        assert!(then.step(&key).is_some(), "{key}: {:?}", then.steps);
    }
    assert!(
        then.steps
            .iter()
            .any(|s| matches!(s.work, Work::Turn { .. }))
    );
    assert!(then.is_feasible(), "{:?}", then.findings);
}

#[test]
fn a_lining_with_no_free_edge_is_felled_instead() {
    let mut garment = bib();
    let all = ["hem", "right", "top", "left"];
    let mut shell = vec![with(panel("bib", 80.0, 60.0), "hem", HEM)];
    for edge in all {
        shell[0] = with(shell[0].clone(), edge, Finish::Raw);
    }
    shell[0].copies = vec![SHELL, LINING];
    garment.pieces = shell.into_iter().map(std::sync::Arc::new).collect();
    let mut fitting = fitting(&garment);
    fitting.making.lining = Some(LiningMethod::Bagged);
    let order = sewn(&garment, &fitting);
    let found = told(&order, "0 edges are free").unwrap();
    let (made, next) = after(&garment, &fitting, found.remedy.as_ref().unwrap());
    assert_eq!(sewn(&made, &next).lining, Some(LiningMethod::Felled));
}

/// Sewn all round: nothing is left to turn it through. One change leaves a gap, which is closed by hand.
#[test]
fn a_bag_without_a_way_out_gets_a_gap_in_one_change() {
    let mut bag = panel("bag", 80.0, 60.0);
    bag.copies = vec![SHELL, LINING];
    let seams = ["hem", "right", "top", "left"].map(|edge| {
        seam(
            edge,
            vec![stretch("bag", edge)],
            vec![of(stretch("bag", edge), LINING)],
        )
    });
    let garment = garment(vec![bag], seams.to_vec());
    let fitting = fitting(&garment);
    let order = sewn(&garment, &fitting);
    assert!(!order.is_feasible());
    let found = told(&order, "no opening left").unwrap();
    assert_eq!(found.gravity, Gravity::Unusable);
    let (made, next) = after(&garment, &fitting, found.remedy.as_ref().unwrap());
    let then = sewn(&made, &next);
    assert!(then.is_feasible(), "{:?}", then.findings);
    assert!(then.steps.iter().any(|s| s.work == Work::CloseGap));
    assert!(then.findings.iter().all(|f| f.gravity < Gravity::Unusable));
}

/// Six gores of 40 mm at the hem, each sewn to the next: six seams, one hem of 240 mm in the round.
#[test]
fn gores_that_are_alike_are_sewn_six_times_and_hemmed_once_round() {
    let mut gore = with(panel("gore", 40.0, 150.0), "hem", HEM);
    gore.copies = vec![SHELL; 6];
    let next = seam(
        "gore seam",
        vec![stretch("gore", "right")],
        vec![back(stretch("gore", "left"))],
    );
    let skirt = garment(vec![gore], vec![next]);
    let order = sewn(&skirt, &fitting(&skirt));
    let seam = order.step("sew gore seam").unwrap();
    assert_eq!((seam.times, seam.length.0), (6, 150.0));
    let hem = order.step("hem gore, hem").unwrap();
    assert_eq!((hem.times, hem.lies, hem.length.0), (1, Lies::Round, 240.0));
    assert!((hem.girth.unwrap().0 - 240.0).abs() < 1e-9, "{hem:?}");
}

#[test]
fn two_pockets_that_are_alike_are_hemmed_twice() {
    let pockets = |copies: usize| {
        let mut pocket = with(panel("pocket", 30.0, 40.0), "top", HEM);
        pocket.copies = vec![SHELL; copies];
        let apron = garment(vec![pocket], Vec::new());
        let order = sewn(&apron, &fitting(&apron));
        let step = order.step("hem pocket, top").unwrap();
        (step.times, step.length.0)
    };
    assert_eq!(pockets(1), (1, 30.0));
    assert_eq!(pockets(2), (2, 30.0));
}
