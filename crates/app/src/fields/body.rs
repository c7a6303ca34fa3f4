//! The list of bodies: the maker's own, then those that come with the program, by kind.

use std::sync::Arc;

use egui::{RichText, Ui};
use petitoile_core::body::{Body, BodyKind};

use crate::session::Session;
use crate::wording;

/// Shows the list and gives the body that was clicked.
pub fn pick_body(
    ui: &mut Ui,
    session: &Session,
    built_in: &[Arc<Body>],
    now: &Body,
) -> Option<Arc<Body>> {
    let mut asked = None;
    let list = egui::ComboBox::from_id_salt("body")
        .selected_text(&now.name)
        .width(ui.available_width() - 8.0)
        .truncate();
    let shown = list.height(420.0).show_ui(ui, |ui| {
        let mut group = |ui: &mut Ui, name: &str, bodies: Vec<&Arc<Body>>| {
            if !bodies.is_empty() {
                ui.label(RichText::new(name).small().weak());
            }
            for body in bodies {
                let same = body.name == now.name;
                if ui.selectable_label(same, &body.name).clicked() {
                    asked = Some(body.clone());
                }
            }
        };
        group(ui, "Your own", own_bodies(session, built_in));
        for kind in [
            BodyKind::Doll,
            BodyKind::Child,
            BodyKind::Woman,
            BodyKind::Man,
        ] {
            let of_kind = built_in.iter().filter(|body| body.kind == kind).collect();
            group(ui, wording::body_kinds(kind), of_kind);
        }
    });
    shown.response.widget_info(|| {
        let mut info = egui::WidgetInfo::labeled(egui::Role::ComboBox, true, "Body");
        info.current_text_value = Some(now.name.clone());
        info
    });
    asked
}

/// Bodies of the project that do not come with the program just as they are.
pub fn own_bodies<'a>(session: &'a Session, built_in: &[Arc<Body>]) -> Vec<&'a Arc<Body>> {
    let bodies = session.shown().bodies.iter();
    bodies.filter(|body| !built_in.contains(body)).collect()
}
