//! Every piece on the cloth that is there. The search comes with the Cloth tray; the plan it will make is
//! [`petitoile_core::lay_plan::LayPlan`].

pub mod search;
