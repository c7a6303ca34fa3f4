//! Tools for what is sewn to what: sewing, the list, walking, truing.

mod seam_list;
mod sew;
mod true_joins;
mod walk_seam;

use crate::chalk::tool::Tool;

/// All of them, in the order they stand in the tray.
pub fn all() -> Vec<Box<dyn Tool>> {
    vec![
        Box::<sew::Sew>::default(),
        Box::<seam_list::SeamList>::default(),
        Box::<walk_seam::WalkSeam>::default(),
        Box::<true_joins::TrueJoins>::default(),
    ]
}
