//! A demo project on the Chalk table, and a hand with pointer and keys.

use std::sync::Arc;

use egui::{Key, Modifiers, Pos2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use kurbo::Point;
use petitoile::command::Command;
use petitoile::demos;
use petitoile::session::On;
use petitoile::window::Window;
use petitoile_core::finding::Place;
use petitoile_core::garment::Garment;
use petitoile_core::piece::Piece;
use petitoile_core::project::Project;
use petitoile_core::snapping::Snapping;

use crate::common::{harness, type_over};

/// The window with the Chalk tray up.
pub struct Bench(pub Harness<'static, Window>);

/// Garment and fitting: every tool works on both.
pub const BOTH: [On; 2] = [On::Garment, On::Fitting];

impl Bench {
    /// A demo on the Chalk table.
    pub fn of(demo: &str, on: On) -> Self {
        Self::with(demos::named(demo).unwrap(), on)
    }

    /// Any project on the Chalk table.
    pub fn with(project: Project, on: On) -> Self {
        let mut harness = harness(project);
        harness.key_press(Key::F2);
        harness.run();
        let mut bench = Self(harness);
        bench.ask(Command::On(on));
        // A click is where it is made.
        bench.ask(Command::Snap(Snapping::OFF));
        bench
    }

    pub fn ask(&mut self, command: Command) {
        self.0.state_mut().ask(command);
        self.0.run();
    }

    /// Takes a tool in hand by its button, and looks at one piece from near.
    pub fn take(&mut self, tool: &str, piece: &str) {
        self.press(tool);
        self.ask(Command::ShowPlace(Place::piece(piece)));
    }

    /// Clicks a button of this name.
    pub fn press(&mut self, label: &str) {
        self.node(label, |node| node.scroll_to_me());
        self.node(label, |node| node.click());
    }

    /// Clicks the first button whose name begins like this.
    pub fn press_begins(&mut self, begins: &str) {
        let at = self.handle(begins);
        self.click(at);
    }

    /// Holds Shift down, or lets go of it.
    pub fn hold_shift(&mut self, down: bool) {
        let modifiers = if down {
            Modifiers::SHIFT
        } else {
            Modifiers::NONE
        };
        self.0.event(egui::Event::ModifiersChanged(modifiers));
        self.0.run();
    }

    /// Clicks a button and lets no frame pass after it.
    pub fn press_only(&mut self, label: &str) {
        self.0.get_by_label(label).click();
    }

    fn node(&mut self, label: &str, act: impl Fn(&egui_kittest::Node<'_>)) {
        {
            let found = self.0.query_all_by_label(label).next();
            act(&found.unwrap_or_else(|| panic!("nothing is called {label}")));
        }
        self.0.run();
    }

    /// Is anything called like this?
    pub fn shows(&self, part: &str) -> bool {
        self.0.query_all_by_label_contains(part).next().is_some()
    }

    /// Picks from a list that drops down.
    pub fn pick(&mut self, list: &str, entry: &str) {
        {
            let list = self
                .0
                .get_by_role_and_label(egui::accesskit::Role::ComboBox, list);
            list.scroll_to_me();
        }
        self.0.run();
        self.0
            .get_by_role_and_label(egui::accesskit::Role::ComboBox, list)
            .click();
        self.0.run();
        // A tool may be called like an entry; the open list comes after it.
        for scroll in [true, false] {
            let entries = self.0.query_all_by_label(entry);
            let found = entries.last();
            let found = found.unwrap_or_else(|| panic!("no entry is called {entry}"));
            if scroll {
                found.scroll_to_me();
            } else {
                found.click();
            }
            self.0.run();
        }
    }

    /// Everything that is called like this.
    pub fn labels(&self, part: &str) -> Vec<String> {
        let found = self.0.query_all_by_label_contains(part);
        found
            .filter_map(|node| node.accesskit_node().label())
            .collect()
    }

    /// Types over a field.
    pub fn type_over(&mut self, field: &str, text: &str) {
        type_over(&mut self.0, field, text);
    }

    /// What lies under the hand.
    pub fn garment(&self) -> Arc<Garment> {
        self.0.state().session.on_table().unwrap().clone()
    }

    pub fn piece(&self, name: &str) -> Arc<Piece> {
        self.garment().piece(name).unwrap().clone()
    }

    /// Undo steps so far.
    pub fn steps(&self) -> usize {
        self.0.state().session.history.steps()
    }

    /// What the last step is called.
    pub fn last_step(&self) -> String {
        let session = &self.0.state().session;
        let unit = session.shown().unit;
        session.history.last().unwrap().words(unit)
    }

    pub fn message(&self) -> String {
        self.0.state().session.message.clone().unwrap_or_default()
    }

    pub fn key(&mut self, key: Key) {
        self.0.key_press(key);
        self.0.run();
    }

    pub fn undo(&mut self) {
        self.0.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        self.0.run();
    }

    /// Where a place of a piece is on the screen.
    pub fn screen(&self, piece: &str, at: Point) -> Pos2 {
        let session = &self.0.state().session;
        let canvas = self.0.get_by_label("Chalk table").rect();
        let moved = session.work.table.piece(piece).unwrap().moved;
        session.view.screen_from_table(canvas, at + moved)
    }

    /// A place on an edge, on the screen.
    pub fn on_edge(&self, piece: &str, edge: &str, fraction: f64) -> Pos2 {
        let found = self.piece(piece);
        let line = &found.outline.edge(edge).unwrap().line;
        self.screen(piece, line.at(fraction))
    }

    pub fn click(&mut self, at: Pos2) {
        self.0.hover_at(at);
        self.0.step();
        self.0.drag_at(at);
        self.0.step();
        self.0.drop_at(at);
        self.0.run();
    }

    pub fn drag(&mut self, from: Pos2, to: Pos2) {
        self.drag_and_hold(from, to);
        self.0.drop_at(to);
        self.0.run();
    }

    /// Drags and does not let go.
    pub fn drag_and_hold(&mut self, from: Pos2, to: Pos2) {
        self.0.hover_at(from);
        self.0.step();
        self.0.drag_at(from);
        self.0.step();
        for i in 1..=8 {
            self.0.hover_at(from.lerp(to, i as f32 / 8.0));
            self.0.step();
        }
    }

    /// Clicks the handle whose name begins like this.
    pub fn click_handle(&mut self, begins: &str) {
        let at = self.handle(begins);
        self.click(at);
    }

    /// Where the handle is whose name begins like this.
    pub fn handle(&self, begins: &str) -> Pos2 {
        let found = self.0.query_all_by_label_contains(begins).find(|node| {
            let label = node.accesskit_node().label();
            node.accesskit_node().role() == egui::accesskit::Role::Button
                && label.is_some_and(|label| label.starts_with(begins))
        });
        found
            .unwrap_or_else(|| panic!("no handle begins with {begins}"))
            .rect()
            .center()
    }
}

/// Nearly equal, within a hundredth.
pub fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 0.01
}
