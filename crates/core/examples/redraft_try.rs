//! Scratch.
#![allow(clippy::print_stdout, clippy::unwrap_used)]
fn main() {
    for case in petitoile_core::redraft::CASES {
        for (name, m) in &petitoile_core::redraft::TARGETS {
            match petitoile_core::redraft::row(case, name, m) {
                Ok(r) => {
                    let p = |d: f64| d / r.bust * 100.0;
                    println!("{:28} {:16} ours {:6.2}% ({:5.2}) {:7.2}mm [{}] miss {:.1e} {} | est {:6.2}% miss {:.1e} | a/a {:6.2}% miss {:6.2} | one {:6.2}% miss {:6.2} | steps {}", r.case, r.target, p(r.adapted.worst.max), p(r.adapted.worst.rms), r.adapted.worst.max, r.adapted.piece, r.adapted.missed, if r.adapted.missed > 0.01 { r.adapted.missed_demand.as_str() } else { "" }, p(r.estimated.worst.max), r.estimated.missed, p(r.across_along.worst.max), r.across_along.missed, p(r.one_factor.worst.max), r.one_factor.missed, r.steps);
                }
                Err(e) => println!("{} {}: {e}", case.name, name),
            }
        }
    }
}
