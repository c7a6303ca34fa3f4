//! The wardrobe fitted to dolls: cloth, allowances and hems chosen at the doll's size.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::needle::{cloth, plain_cotton};
use super::{
    WardrobeError, gored_sunday_skirt, half_circle_sunday_skirt, harbour_jacket, net_menders_smock,
};
use crate::allowance::AllowancePlan;
use crate::body::Body;
use crate::cloth::Cloth;
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::outfit::{Outfit, WornPad};
use crate::pad::{Pad, PadMiddle};
use crate::piece::Role;
use crate::project::Project;
use crate::units::Mm;

/// The dolls the wardrobe is fitted to.
#[derive(Debug, Clone)]
pub struct Dolls {
    /// A play doll of 45 cm.
    pub play_45: Arc<Body>,
    /// A play doll of 36 cm.
    pub play_36: Arc<Body>,
    /// A slim fashion doll of 29 cm.
    pub fashion_29: Arc<Body>,
    /// A jointed doll of 60 cm.
    pub jointed_60: Arc<Body>,
    /// A miniature in 1:12.
    pub twelfth: Arc<Body>,
}

/// What a doll's size asks for. Allowances: sources in the fact sheet, E1; hems: common practice, no source.
struct DollSize {
    seam: f64,
    hem: f64,
    notch: f64,
    outer: Cloth,
    lining: Cloth,
    /// Thickness of the blouse and slip worn underneath.
    underneath: f64,
}

const PRACTICE: &str = "common practice, no source";

fn play_size() -> DollSize {
    DollSize {
        seam: 6.35,
        hem: 12.7,
        notch: 3.0,
        outer: cloth("wool challis", 0.36, PRACTICE),
        lining: cloth("cotton lawn", 0.165, PRACTICE),
        underneath: 0.165,
    }
}

fn small_play_size() -> DollSize {
    DollSize {
        seam: 5.0,
        hem: 10.0,
        notch: 2.5,
        outer: plain_cotton("plain-weave cotton"),
        ..play_size()
    }
}

fn fashion_size() -> DollSize {
    DollSize {
        seam: 4.5,
        hem: 6.0,
        notch: 2.0,
        outer: cloth("handkerchief linen", 0.25, PRACTICE),
        lining: cloth("silk habotai, 8 momme", 0.08, PRACTICE),
        underneath: 0.08,
    }
}

fn jointed_size() -> DollSize {
    DollSize {
        hem: 16.0,
        outer: plain_cotton("plain-weave cotton"),
        ..play_size()
    }
}

fn twelfth_size() -> DollSize {
    DollSize {
        seam: 3.2,
        hem: 3.2,
        notch: 1.5,
        outer: cloth("cotton lawn", 0.165, PRACTICE),
        ..fashion_size()
    }
}

/// A garment on a doll.
fn fitting(garment: &Garment, doll: &Arc<Body>, size: DollSize, is_outer: bool) -> Arc<Fitting> {
    let mut fitting = Fitting::new(
        format!("{}, {}", garment.name, doll.name),
        garment.name.clone(),
        doll.clone(),
    );
    fitting.allowances = AllowancePlan {
        seam: Mm(size.seam),
        hem: Mm(size.hem),
        notch_depth: Mm(size.notch),
        ..AllowancePlan::default()
    };
    let has_lining = garment
        .pieces
        .iter()
        .any(|piece| piece.copies_in(Role::Lining) > 0);
    fitting.cloths = BTreeMap::from([(Role::Shell, size.outer)]);
    if has_lining {
        fitting.cloths.insert(Role::Lining, size.lining);
    }
    if is_outer {
        fitting.worn_underneath = vec![Mm(size.underneath)];
    }
    Arc::new(fitting)
}

fn project(
    name: &str,
    garments: Vec<Garment>,
    made_for: &Arc<Body>,
    fittings: Vec<Arc<Fitting>>,
) -> Project {
    // Every body once, the one the garments were made for first.
    let mut bodies = vec![made_for.clone()];
    for body in fittings.iter().map(|fitting| &fitting.body) {
        if !bodies.iter().any(|known| known.name == body.name) {
            bodies.push(body.clone());
        }
    }
    Project {
        name: name.to_owned(),
        garments: garments.into_iter().map(Arc::new).collect(),
        bodies,
        fittings,
        ..Project::default()
    }
}

/// The harbour jacket on five dolls, worn over a thin blouse.
///
/// # Errors
/// [`WardrobeError`] when the jacket cannot be drafted for this body.
pub fn harbour_jacket_project(
    made_for: &Arc<Body>,
    dolls: &Dolls,
) -> Result<Project, WardrobeError> {
    let jacket = harbour_jacket(made_for)?;
    let fittings = vec![
        fitting(&jacket, &dolls.play_45, play_size(), true),
        fitting(&jacket, &dolls.play_36, small_play_size(), true),
        fitting(&jacket, &dolls.fashion_29, fashion_size(), true),
        fitting(&jacket, &dolls.jointed_60, jointed_size(), true),
        fitting(&jacket, &dolls.twelfth, twelfth_size(), true),
    ];
    Ok(Project {
        offcuts: super::offcuts::of_the_jacket(),
        ..project(
            "The lamp keeper's harbour jacket",
            vec![jacket],
            made_for,
            fittings,
        )
    })
}

/// The two Sunday skirts on three dolls each.
///
/// # Errors
/// [`WardrobeError`] when a skirt cannot be drafted for this body.
pub fn sunday_skirts_project(
    made_for: &Arc<Body>,
    dolls: &Dolls,
) -> Result<Project, WardrobeError> {
    let garments = vec![
        gored_sunday_skirt(made_for)?,
        half_circle_sunday_skirt(made_for)?,
    ];
    let mut fittings = Vec::new();
    for skirt in &garments {
        // A round hem cannot be eased in deeper on gores as short as these.
        let shallow = DollSize {
            hem: 6.35,
            ..play_size()
        };
        fittings.push(fitting(skirt, &dolls.play_45, shallow, false));
        fittings.push(fitting(skirt, &dolls.fashion_29, fashion_size(), false));
        fittings.push(fitting(skirt, &dolls.jointed_60, jointed_size(), false));
    }
    Ok(project("Sunday skirts", garments, made_for, fittings))
}

/// The net mender's smock on three dolls.
///
/// # Errors
/// [`WardrobeError`] when the smock cannot be drafted for this body.
pub fn net_menders_smock_project(
    made_for: &Arc<Body>,
    dolls: &Dolls,
) -> Result<Project, WardrobeError> {
    let smock = net_menders_smock(made_for)?;
    let thin = |name, thickness, size| DollSize {
        outer: cloth(name, thickness, PRACTICE),
        ..size
    };
    let fittings = vec![
        fitting(
            &smock,
            &dolls.play_45,
            thin("cotton lawn", 0.165, play_size()),
            false,
        ),
        fitting(
            &smock,
            &dolls.fashion_29,
            thin("silk habotai, 8 momme", 0.08, fashion_size()),
            false,
        ),
        fitting(
            &smock,
            &dolls.jointed_60,
            thin("cotton shirting", 0.24, jointed_size()),
            false,
        ),
    ];
    let outfits = fittings
        .iter()
        .map(|f| Outfit {
            name: format!("working day, {}", f.body.name),
            layers: vec![f.name.clone()],
            pads: Vec::new(),
        })
        .collect();
    Ok(Project {
        outfits,
        ..project("The net mender's smock", vec![smock], made_for, fittings)
    })
}

/// A Sunday on the quay: one play doll of 45 cm in everything she owns, from the smock outwards. A roll is worn over the
/// smock, so that the skirts stand out behind.
///
/// The smock is the under layer, the half-circle skirt, of lawn, the underskirt. *Own scenario.*
///
/// # Errors
/// [`WardrobeError`] when a garment cannot be drafted for this body.
pub fn sunday_on_the_quay_project(
    made_for: &Arc<Body>,
    dolls: &Dolls,
) -> Result<Project, WardrobeError> {
    let (smock, underskirt) = (
        net_menders_smock(made_for)?,
        half_circle_sunday_skirt(made_for)?,
    );
    let (skirt, jacket) = (gored_sunday_skirt(made_for)?, harbour_jacket(made_for)?);
    let lawn = |hem| DollSize {
        outer: cloth("cotton lawn", 0.165, PRACTICE),
        hem,
        ..play_size()
    };
    let shallow = DollSize {
        hem: 6.35,
        ..play_size()
    };
    let doll = &dolls.play_45;
    let named = |name: &str, fitting: Arc<Fitting>| {
        Arc::new(Fitting {
            name: name.to_owned(),
            ..Fitting::clone(&fitting)
        })
    };
    let fittings = vec![
        named("smock", fitting(&smock, doll, lawn(12.7), false)),
        named("underskirt", fitting(&underskirt, doll, lawn(6.35), false)),
        named("Sunday skirt", fitting(&skirt, doll, shallow, false)),
        named("jacket", fitting(&jacket, doll, play_size(), true)),
    ];
    let roll = Pad {
        name: "hip roll".to_owned(),
        projection: Mm(12.0),
        below_waist: Mm(20.0),
        share: 0.5,
        middle: PadMiddle::Back,
    };
    let layers = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect();
    let outfits = vec![
        Outfit {
            name: "Sunday on the quay".to_owned(),
            layers: layers(&["smock", "underskirt", "Sunday skirt", "jacket"]),
            pads: vec![WornPad {
                pad: roll,
                over: Some("smock".to_owned()),
            }],
        },
        Outfit {
            name: "Saturday, without the jacket".to_owned(),
            layers: layers(&["smock", "Sunday skirt"]),
            pads: Vec::new(),
        },
    ];
    let garments = vec![smock, underskirt, skirt, jacket];
    Ok(Project {
        outfits,
        ..project("Sunday on the quay", garments, made_for, fittings)
    })
}
