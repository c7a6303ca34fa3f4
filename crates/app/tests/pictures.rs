//! Pictures of the table and of one page, painted by software. Without any renderer they are left out, and say so.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::print_stderr,
    reason = "tests"
)]

mod common;

use common::{harness, project};
use egui::Key;
use egui_kittest::kittest::Queryable;
use petitoile::command::Command;
use petitoile::settings::Look;

/// Is there anything that can paint? Without it the test library panics.
fn can_paint() -> bool {
    let instance = wgpu_instance_has_adapter();
    if !instance {
        eprintln!("left out: this machine has no renderer, not even one in software");
    }
    instance
}

fn wgpu_instance_has_adapter() -> bool {
    std::panic::catch_unwind(|| {
        let mut harness = egui_kittest::Harness::builder()
            .with_size(egui::vec2(16.0, 16.0))
            .build_ui(|ui| {
                ui.label("a");
            });
        harness.render().is_ok()
    })
    .unwrap_or(false)
}

#[test]
fn the_table_looks_as_it_did() {
    if !can_paint() {
        return;
    }
    let mut harness = harness(project());
    harness.remove_cursor();
    harness.run();
    harness.snapshot("table_light");
    harness.state_mut().ask(Command::Look(Look::Dark));
    harness.run();
    harness.snapshot("table_dark");
}

#[test]
fn the_pages_look_as_they_did() {
    if !can_paint() {
        return;
    }
    let mut harness = harness(project());
    harness.key_press(Key::F3);
    harness.run();
    assert!(harness.query_by_label("Page 1 large").is_some());
    harness.remove_cursor();
    harness.run();
    harness.snapshot("pages");
}
