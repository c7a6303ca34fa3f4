//! How the pieces are sewn together, and the notches that bring them there.

use super::SLIT;
use crate::drafts::wardrobe::needle::{LEFT, RIGHT, WHOLE};
use crate::drafts::wardrobe::table::{Join, Table, bit};
use crate::notch::NotchKind;
use crate::piece::Role;
use crate::seams::{Insert, InsertKind, SeamKind};
use crate::units::Mm;

pub(super) fn seams(t: &mut Table) {
    let shell = Role::Shell;
    let fy = |edge, corner| bit("front yoke", WHOLE, edge, corner);
    let by = |edge, corner| bit("back yoke", RIGHT, edge, corner);
    let fb = |edge, corner| bit("front body", WHOLE, edge, corner);
    let bb = |side, edge, corner| bit("back body", side, edge, corner);
    let sleeve = |edge, corner| bit("sleeve", RIGHT, edge, corner);
    let cuff = |edge, corner| bit("cuff", RIGHT, edge, corner);
    let neckband = |edge, corner| bit("neckband", WHOLE, edge, corner);
    t.sew(
        "shoulder",
        shell,
        &[fy("shoulder", "neckline")],
        &[by("shoulder", "neckline")],
        Join::Equal,
    );
    t.sew(
        "front yoke seam",
        shell,
        &[fb("yoke seam", "centre front")],
        &[fy("yoke seam", "centre front")],
        Join::Equal,
    );
    t.sew(
        "back yoke seam",
        shell,
        &[bb(RIGHT, "yoke seam", "centre back")],
        &[by("yoke seam", "centre back")],
        Join::Equal,
    );
    t.sew(
        "side seam",
        shell,
        &[fb("side seam", "armscye")],
        &[bb(RIGHT, "side seam", "armscye")],
        Join::Equal,
    );
    t.last_seam(|seam| seam.kind = SeamKind::Felled);
    let back = |side| bb(side, "centre back", "yoke seam").part(SLIT, 1.0);
    t.sew(
        "centre back seam",
        shell,
        &[back(RIGHT)],
        &[back(LEFT)],
        Join::Equal,
    );
    let cap = [
        sleeve("cap back", "underarm back"),
        sleeve("cap front", "cap back"),
    ];
    let armscye = [
        bb(RIGHT, "armscye", "side seam"),
        by("armscye", "yoke seam"),
        fy("armscye", "shoulder"),
        fb("armscye", "yoke seam"),
    ];
    t.sew("sleeve into armscye", shell, &cap, &armscye, Join::Gathered);
    t.sew(
        "underarm",
        shell,
        &[sleeve("underarm front", "cap front")],
        &[sleeve("underarm back", "cap back")],
        Join::Equal,
    );
    t.last_seam(|seam| seam.kind = SeamKind::Felled);
    t.sew(
        "sleeve into cuff",
        shell,
        &[sleeve("hem", "underarm back")],
        &[cuff("sleeve edge", "end back")],
        Join::Gathered,
    );
    t.sew(
        "cuff inside",
        shell,
        &[cuff("inner edge", "end back")],
        &[cuff("sleeve edge", "end back")],
        Join::Equal,
    );
    t.last_seam(|seam| seam.kind = SeamKind::Lapped);
    t.sew(
        "cuff ends",
        shell,
        &[cuff("end front", "sleeve edge")],
        &[cuff("end back", "sleeve edge")],
        Join::Equal,
    );
    let neckline = [fy("neckline", "centre front"), by("neckline", "shoulder")];
    t.sew(
        "neckband",
        shell,
        &[neckband("neck edge", "centre front")],
        &neckline,
        Join::Equal,
    );
    t.sew(
        "neckband inside",
        shell,
        &[neckband("inner edge", "centre front")],
        &[neckband("neck edge", "centre front")],
        Join::Equal,
    );
    t.last_seam(|seam| seam.kind = SeamKind::Lapped);
    t.sew(
        "neckband end",
        shell,
        &[neckband("end", "neck edge")],
        &[neckband("inner end", "inner edge")],
        Join::Equal,
    );
    let tie = Insert {
        name: "tie".to_owned(),
        kind: InsertKind::Tie,
        thickness: Mm(0.3),
        from: 0.6,
        to: 0.9,
    };
    t.last_seam(|seam| seam.inserts.push(tie));
    notches(t);
}

fn notches(t: &mut Table) {
    for (piece, edge, corner, share, kind) in [
        ("front body", "side seam", "armscye", 0.5, NotchKind::Single),
        ("back body", "side seam", "armscye", 0.5, NotchKind::Single),
        ("front body", "armscye", "side seam", 0.5, NotchKind::Single),
        ("back body", "armscye", "side seam", 0.5, NotchKind::Double),
        (
            "back body",
            "centre back",
            "yoke seam",
            SLIT,
            NotchKind::Triple,
        ),
        (
            "sleeve",
            "underarm front",
            "cap front",
            0.5,
            NotchKind::Single,
        ),
        (
            "sleeve",
            "underarm back",
            "cap back",
            0.5,
            NotchKind::Single,
        ),
    ] {
        t.notch(piece, edge, corner, share, kind);
    }
    // On the cap where the body's notches meet it, gathers taken evenly.
    let lengths: Vec<f64> = ["back body", "back yoke", "front yoke", "front body"]
        .iter()
        .map(|p| t.edge_length(p, "armscye"))
        .collect();
    let caps = t.edge_length("sleeve", "cap back") + t.edge_length("sleeve", "cap front");
    let ratio = caps / lengths.iter().sum::<f64>().max(1.0);
    for (cap, corner, body, kind) in [
        (
            "cap front",
            "underarm front",
            "front body",
            NotchKind::Single,
        ),
        ("cap back", "underarm back", "back body", NotchKind::Double),
    ] {
        let share =
            0.5 * t.edge_length(body, "armscye") * ratio / t.edge_length("sleeve", cap).max(1.0);
        t.notch("sleeve", cap, corner, share, kind);
    }
}
