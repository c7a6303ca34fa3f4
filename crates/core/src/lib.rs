//! Geometry, size and ease: the pure heart of Petitoile.
//!
//! Lengths in mm, x right, y up, outlines counter-clockwise. No file, no clock, no chance, no window.
//!
//! Reading order: units and tolerances, geometry (knows no cloth), the nouns a project holds,
//! every change to them ([`edit`]), and the steps that run over them: [`adapt`], [`fullness`],
//! [`finish`], [`check`].

pub mod tolerance;
pub mod units;

pub mod geometry;

pub mod allowance;
pub mod alteration;
pub mod body;
pub mod closure;
pub mod cloth;
pub mod ease;
pub mod edge;
pub mod edit;
pub mod finding;
pub mod fitting;
pub mod garment;
pub mod joins;
pub mod lay_plan;
pub mod machine;
pub mod making_order;
pub mod making_sheet;
pub mod mark;
pub mod mates;
pub mod measure;
pub mod measuring;
pub mod notch;
pub mod outfit;
pub mod pad;
pub mod paper;
pub mod piece;
pub mod pins;
pub mod project;
pub mod seams;
pub mod tape;
pub mod walk;

pub mod cloth_drawn;
pub mod drafts;
pub mod drawn;
pub mod ready_shapes;
pub mod readying;
pub mod snapping;
pub mod stash;

pub mod adapt;
pub mod bulk;
pub mod check;
pub mod dressing;
pub mod finish;
pub mod fit;
pub mod fullness;
pub mod layers;
pub mod laying;
pub mod redraft;
pub mod strips;

pub use kurbo;
pub use units::{Degrees, LengthUnit, Mm};
