//! How long the stitches are, and which needle.

use super::cutting::cloth_of;
use crate::body::BodyKind;
use crate::finish::Finished;
use crate::making_order::{By, Order};
use crate::piece::Role;
use crate::units::{LengthUnit, Mm};

/// Cloth up to this thickness counts as fine: lawn, batiste, habotai (fact sheet D3: lawn 0.165 mm; the limit is *own*).
pub const FINE: Mm = Mm(0.2);

/// Thread a lockstitch takes for each length of seam.
///
/// # Source
/// Fact sheet E1, stitch 301: about 2.5 (S26).
pub const THREAD: f64 = 2.5;

/// How long the stitches are, and which needle.
#[derive(Debug, Clone, PartialEq)]
pub struct Stitches {
    /// By machine: one stitch.
    pub machine: Mm,
    /// Basting and gathering rows.
    pub basting: Mm,
    /// Needle for the shell's cloth, where its name is known: "60/8".
    pub needle: Option<&'static str>,
    /// The figure it rests on.
    pub why: String,
}

/// Stitch lengths for a garment.
///
/// # Source
/// Fact sheet E1: general 2.5 mm, fine cloth 1.5 to 2.0, dolls 1.5 to 1.8, basting 4 to 5 (common practice, no source). Needles
/// for cloth: fact sheet I (S33).
pub fn stitches(finished: &Finished) -> Stitches {
    let body = &finished.filled.adapted.fitting.body;
    let shell = cloth_of(finished, Role::Shell);
    let thickness = shell.map(|cloth| cloth.thickness);
    let is_fine = thickness.is_some_and(|t| t.0 <= FINE.0);
    let (machine, basting, whom) = match (body.kind == BodyKind::Doll, is_fine) {
        (true, true) => (1.5, 4.0, "doll, fine cloth"),
        (true, false) => (1.8, 4.0, "doll"),
        (false, true) => (2.0, 5.0, "person, fine cloth"),
        (false, false) => (2.5, 5.0, "person"),
    };
    let cloth = match (shell, thickness) {
        (Some(cloth), Some(t)) => format!("{}, {} mm thick", cloth.name, t.0),
        _ => "cloth not chosen yet".to_owned(),
    };
    Stitches {
        machine: Mm(machine),
        basting: Mm(basting),
        needle: shell.and_then(|cloth| needle(&cloth.name)),
        why: format!("{whom}: {cloth}; common practice, no source"),
    }
}

impl Stitches {
    /// "1.5 mm by machine, 4 mm for basting and gathers; needle 65/9 to 70/10".
    pub fn words(&self, unit: LengthUnit) -> String {
        // Stitch lengths stand on machines in mm everywhere.
        let mm = LengthUnit::Millimetre;
        let per_inch = match unit {
            LengthUnit::Inch => format!(" ({:.0} to the inch)", 25.4 / self.machine.0),
            _ => String::new(),
        };
        let needle = self
            .needle
            .map_or_else(String::new, |needle| format!("; needle {needle}"));
        format!(
            "Stitch {}{per_inch} by machine, {} for basting and gathers{needle} ({}).",
            mm.show(self.machine),
            mm.show(self.basting),
            self.why
        )
    }
}

/// Needle by the name of a cloth.
///
/// # Source
/// Fact sheet I (S33); habotai, handkerchief linen, shirting and plain-weave cotton by their like (*own*).
fn needle(cloth: &str) -> Option<&'static str> {
    const NEEDLES: [(&str, &str); 14] = [
        ("organza", "60/8"),
        ("georgette", "60/8"),
        ("habotai", "60/8"),
        ("lawn", "65/9 to 70/10"),
        ("batiste", "65/9 to 70/10"),
        ("voile", "65/9 to 70/10"),
        ("handkerchief linen", "65/9 to 70/10"),
        ("muslin", "80/12"),
        ("broadcloth", "80/12"),
        ("shirting", "80/12"),
        ("plain-weave cotton", "80/12"),
        ("denim", "100/16"),
        ("linen", "90/14"),
        ("wool", "90/14"),
    ];
    let name = cloth.to_lowercase();
    NEEDLES
        .iter()
        .find(|(word, _)| name.contains(word))
        .map(|(_, needle)| *needle)
}

/// Length of everything that is sewn by this means.
pub(super) fn sewn_length(order: &Order, by: By) -> Mm {
    Mm(order
        .steps
        .iter()
        .filter(|step| step.by == by)
        .map(|step| step.length.0 * step.times as f64)
        .sum())
}
