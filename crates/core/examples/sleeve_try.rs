//! Scratch.
#![allow(clippy::print_stdout, clippy::unwrap_used, clippy::indexing_slicing)]
use std::sync::Arc;
fn main() {
    let want: usize = std::env::args().nth(1).unwrap().parse().unwrap();
    let target: usize = std::env::args().nth(2).unwrap().parse().unwrap();
    let name = std::env::args().nth(3).unwrap();
    let case = &petitoile_core::redraft::CASES[want];
    let a = Arc::new((case.garment)(&petitoile_core::drafts::DraftMeasures::ADULT_92).unwrap());
    let b = (case.garment)(&petitoile_core::redraft::TARGETS[target].1).unwrap();
    let r = petitoile_core::adapt::adapt_garment(&a, &Arc::new(petitoile_core::fitting::Fitting::new("x", "x", b.made_for.clone()))).unwrap();
    for d in &r.demands { if (d.wanted.0-d.got.0).abs()>0.001 || !d.name.contains("corner") { println!("{:40} wanted {:8.2} got {:8.2}", d.name, d.wanted.0, d.got.0); } }
    let (s, g, t) = (a.piece(&name).unwrap(), r.pieces.iter().find(|p| p.name == name).unwrap(), b.piece(&name).unwrap());
    for e in s.outline.edges() {
        let l = |p: &petitoile_core::piece::Piece| p.outline.edge(&e.name).unwrap().line.clone();
        println!("{:20} src {:8.2}  got {:8.2} want {:8.2}", e.name, l(s).length(), l(g).length(), l(t).length());
        let o = |p: &petitoile_core::piece::Piece| p.outline.edges()[0].line.start();
        for k in 0..l(s).points().len() { let f = |p: &petitoile_core::piece::Piece| l(p).points()[k] - o(p); println!("      {:?} {:?} {:?}", (f(s).x.round(), f(s).y.round()), (f(g).x.round(), f(g).y.round()), (f(t).x.round(), f(t).y.round())); }
    }
}
