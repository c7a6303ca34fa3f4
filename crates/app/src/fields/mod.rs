//! Fields that several trays share. They draw and ask; while one is dragged or typed in, nothing is recorded.

mod body;
mod length;
mod name;
mod number;
mod typed;

pub use body::{own_bodies, pick_body};
pub use length::{Typed, difference_field, length_field, length_slider};
pub use name::name_field;
pub use number::{angle_field, share_field};
pub use typed::{Moved, Style, mover, typed_field};

use petitoile_core::edit::{Edit, FittingEdit};

use crate::command::Command;

/// What a maker asked of a field in this frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Asked<T> {
    /// Nothing.
    Nothing,
    /// She is still moving it.
    Trying(T),
    /// She let go, or typed it.
    Done(T),
}

impl<T> Asked<T> {
    /// Pushes it as a change of this fitting.
    pub fn push(
        self,
        fitting: &str,
        commands: &mut Vec<Command>,
        change: impl FnOnce(T) -> FittingEdit,
    ) {
        let edit = |change| Edit::Fitting {
            fitting: fitting.to_owned(),
            change,
        };
        match self {
            Self::Nothing => {}
            Self::Trying(value) => commands.push(Command::Try(edit(change(value)))),
            Self::Done(value) => commands.push(Command::Edit(edit(change(value)))),
        }
    }
}

/// One of a few choices, side by side; `name` is read out with each. Gives the one that was clicked.
pub fn one_of<T: Copy + PartialEq>(
    ui: &mut egui::Ui,
    name: &str,
    now: T,
    choices: &[T],
    words: impl Fn(T) -> &'static str,
) -> Option<T> {
    let mut asked = None;
    for choice in choices {
        let button = ui.add(egui::Button::selectable(*choice == now, words(*choice)));
        button.widget_info(|| {
            egui::WidgetInfo::selected(
                egui::Role::RadioButton,
                true,
                *choice == now,
                format!("{name}: {}", words(*choice)),
            )
        });
        if button.clicked() && *choice != now {
            asked = Some(*choice);
        }
    }
    asked
}

/// One of many choices, in a list that drops down. Gives the one that was clicked.
pub fn pick<T: Clone + PartialEq>(
    ui: &mut egui::Ui,
    salt: impl std::hash::Hash + std::fmt::Debug,
    name: &str,
    now: &T,
    choices: &[T],
    words: impl Fn(&T) -> String,
) -> Option<T> {
    let mut asked = None;
    let list = egui::ComboBox::from_id_salt(("pick", name, format!("{salt:?}")))
        .selected_text(words(now))
        .truncate();
    let shown = list.show_ui(ui, |ui| {
        for choice in choices {
            if ui.selectable_label(choice == now, words(choice)).clicked() && choice != now {
                asked = Some(choice.clone());
            }
        }
    });
    let name = name.to_owned();
    shown.response.widget_info(|| {
        let mut info = egui::WidgetInfo::labeled(egui::Role::ComboBox, true, &name);
        info.current_text_value = Some(words(now));
        info
    });
    asked
}
