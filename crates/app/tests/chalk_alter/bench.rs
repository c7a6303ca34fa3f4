//! A demo project on the Chalk table, and a hand with pointer and keys.

use std::sync::Arc;

use egui::{Event, Key, Modifiers, PointerButton, Pos2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use kurbo::Point;
use petitoile::command::{Chosen, Command};
use petitoile::demos;
use petitoile::session::On;
use petitoile::window::Window;
use petitoile_core::finding::Place;
use petitoile_core::fitting::Fitting;
use petitoile_core::garment::Garment;
use petitoile_core::piece::Piece;
use petitoile_core::project::Project;
use petitoile_core::snapping::Snapping;

use crate::common::{harness, type_over};

pub const SMOCK: &str = "net-menders-smock";
pub const JACKET: &str = "harbour-jacket";

/// Garment and fitting: every tool works on both.
pub const BOTH: [On; 2] = [On::Garment, On::Fitting];

/// The window with the Chalk tray up.
pub struct Bench {
    pub window: Harness<'static, Window>,
    first: Arc<Project>,
}

/// Does something on the garment and on the fitting; each must be recorded, and undo must give the first project back.
pub fn on_both(demo: &str, act: impl Fn(&mut Bench)) {
    for on in BOTH {
        let mut bench = Bench::of(demo, on);
        act(&mut bench);
        assert!(
            bench.steps() > 0,
            "nothing was recorded on {on:?}: {}",
            bench.message()
        );
        assert!(!bench.window.state().session.is_trying(), "{on:?}");
        bench.undo_all();
        assert_eq!(
            **bench.window.state().session.project(),
            *bench.first,
            "{on:?}"
        );
    }
}

impl Bench {
    /// A demo on the Chalk table.
    pub fn of(demo: &str, on: On) -> Self {
        let window = harness(demos::named(demo).unwrap());
        let first = window.state().session.project().clone();
        let mut bench = Self { window, first };
        bench.key(Key::F2);
        bench.ask(Command::On(on));
        // A place is where the pointer is.
        bench.ask(Command::Snap(Snapping::OFF));
        bench
    }

    pub fn ask(&mut self, command: Command) {
        self.window.state_mut().ask(command);
        self.window.run();
    }

    /// Takes a tool in hand by its button, looks at one piece from near and chooses it.
    pub fn take(&mut self, tool: &str, piece: &str) {
        self.press(tool);
        self.ask(Command::ShowPlace(Place::piece(piece)));
        self.ask(Command::Choose(Chosen::piece(piece)));
    }

    /// Clicks what is called like this.
    pub fn press(&mut self, label: &str) {
        for click in [false, true] {
            let found = self.window.query_all_by_label(label).next();
            let node = found.unwrap_or_else(|| panic!("nothing is called {label}"));
            if click {
                node.click();
            } else {
                node.scroll_to_me();
            }
            self.window.run();
        }
    }

    /// Is anything called like this?
    pub fn shows(&self, part: &str) -> bool {
        self.window
            .query_all_by_label_contains(part)
            .next()
            .is_some()
    }

    pub fn type_over(&mut self, field: &str, text: &str) {
        type_over(&mut self.window, field, text);
    }

    /// Drags what is called like this by so many mm of the table, in steps.
    pub fn drag_by(&mut self, label: &str, right: f64, up: f64) {
        let from = self.window.get_by_label(label).rect().center();
        let scale = self.window.state().session.view.scale as f32;
        let to = from + egui::vec2(right as f32 * scale, -up as f32 * scale);
        self.drag(from, to);
    }

    pub fn drag(&mut self, from: Pos2, to: Pos2) {
        self.hold(from, to);
        self.window.drop_at(to);
        self.window.run();
    }

    /// Drags without letting go.
    pub fn hold(&mut self, from: Pos2, to: Pos2) {
        self.window.hover_at(from);
        self.window.step();
        self.window.drag_at(from);
        self.window.step();
        for i in 1..=6 {
            self.window.hover_at(from.lerp(to, i as f32 / 6.0));
            self.window.step();
        }
    }

    pub fn click(&mut self, at: Pos2) {
        self.window.hover_at(at);
        self.window.run();
        for pressed in [true, false] {
            self.window.event(Event::PointerButton {
                pos: at,
                button: PointerButton::Primary,
                pressed,
                modifiers: Modifiers::NONE,
            });
            self.window.step();
        }
        self.window.run();
    }

    /// Two clicks at once.
    pub fn double_click(&mut self, at: Pos2) {
        self.window.hover_at(at);
        self.window.run();
        // In one frame: a frame of these tests lasts nearly as long as a double click may take.
        for pressed in [true, false, true, false] {
            self.window.input_mut().events.push(Event::PointerButton {
                pos: at,
                button: PointerButton::Primary,
                pressed,
                modifiers: Modifiers::NONE,
            });
        }
        self.window.run();
    }

    /// A place on an edge, on the screen.
    pub fn on_edge(&self, piece: &str, edge: &str, fraction: f64) -> Pos2 {
        let at = self
            .piece(piece)
            .outline
            .edge(edge)
            .unwrap()
            .line
            .at(fraction);
        self.screen(piece, at)
    }

    /// Where a place of a piece is on the screen.
    pub fn screen(&self, piece: &str, at: Point) -> Pos2 {
        let session = &self.window.state().session;
        let canvas = self.window.get_by_label("Chalk table").rect();
        let moved = session.work.table.piece(piece).unwrap().moved;
        session.view.screen_from_table(canvas, at + moved)
    }

    pub fn key(&mut self, key: Key) {
        self.window.key_press(key);
        self.window.run();
    }

    pub fn keys(&mut self, modifiers: Modifiers, key: Key) {
        self.window.key_press_modifiers(modifiers, key);
        self.window.run();
    }

    pub fn undo_all(&mut self) {
        for _ in 0..self.steps() {
            self.key(Key::Escape);
            self.keys(Modifiers::COMMAND, Key::Z);
        }
        assert_eq!(self.steps(), 0);
    }

    /// The garment as recorded: drawn, or as made for the fitting.
    pub fn garment(&self) -> Arc<Garment> {
        self.window.state().session.on_table().unwrap().clone()
    }

    pub fn piece(&self, name: &str) -> Arc<Piece> {
        self.garment().piece(name).unwrap().clone()
    }

    pub fn has(&self, piece: &str) -> bool {
        self.garment().piece(piece).is_some()
    }

    pub fn length(&self, piece: &str, edge: &str) -> f64 {
        self.piece(piece).outline.edge(edge).unwrap().line.length()
    }

    pub fn steps(&self) -> usize {
        self.window.state().session.history.steps()
    }

    pub fn last_step(&self) -> String {
        let session = &self.window.state().session;
        session.history.last().unwrap().words(session.shown().unit)
    }

    pub fn message(&self) -> String {
        self.window
            .state()
            .session
            .message
            .clone()
            .unwrap_or_default()
    }

    pub fn fitting(&self) -> Arc<Fitting> {
        self.window.state().session.fitting().unwrap().clone()
    }
}

/// Are two lengths the same to a hundredth of a millimetre?
pub fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < 0.01
}
