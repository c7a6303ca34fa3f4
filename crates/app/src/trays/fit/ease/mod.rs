//! Ease line by line: how much more the garment measures than the body in it, on the source and here; along the body,
//! and beside other fittings and bodies.

mod beside;
mod details;
mod plot;
mod table;

use egui::{RichText, Ui};
use petitoile_core::ease::EasePolicy;
use petitoile_core::edit::FittingEdit;
use petitoile_core::fit::Sits;
use petitoile_core::fitting::Fitting;
use petitoile_core::{LengthUnit, Mm};

use crate::command::Command;
use crate::fields::{Asked, one_of};
use crate::session::Session;
use crate::theme::Palette;
use crate::trays::{faded, heading};
use crate::wording;

/// What is unfolded and chosen in the ease part of the tray.
#[derive(Default)]
pub struct EasePart {
    open: Option<String>,
    along: plot::Along,
    beside: beside::BesidePart,
}

impl EasePart {
    /// Policy, table, plots, comparison.
    pub fn ui(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        fitting: &Fitting,
        commands: &mut Vec<Command>,
    ) {
        let unit = session.shown().unit;
        heading(ui, "Ease");
        policy(ui, fitting, commands);
        let Some(worked) = session.work.done.as_ref() else {
            return;
        };
        let figure = &worked.beyond.fit;
        table::table(
            ui,
            &mut self.open,
            (&figure.table, &worked.adapted.ease),
            fitting,
            unit,
            commands,
        );
        plot::percents(ui, &figure.table.rows, unit);
        self.along.ui(ui, figure, unit);
        heading(ui, "Beside");
        self.beside.ui(ui, session, fitting, commands);
    }
}

/// How ease is brought over.
fn policy(ui: &mut Ui, fitting: &Fitting, commands: &mut Vec<Command>) {
    ui.horizontal_wrapped(|ui| {
        let choices = [
            EasePolicy::InProportion,
            EasePolicy::Absolute,
            EasePolicy::FromTable,
        ];
        if let Some(policy) = one_of(ui, "Ease", fitting.ease, &choices, wording::ease_policy) {
            Asked::Done(policy).push(&fitting.name, commands, FittingEdit::SetEase);
        }
    });
    faded(ui, wording::ease_policy_means(fitting.ease));
}

/// Whole percent without the percent sign.
fn bare(share: f64) -> String {
    // Rounded first: less than half a percent below nothing is nothing.
    format!("{:.0}", share.round() + 0.0).replace('-', "\u{2212}")
}

/// A difference without its unit, with a true minus sign.
fn bare_length(mm: Mm, unit: LengthUnit) -> String {
    unit.show_bare(mm).replace('-', "\u{2212}")
}

fn percent(share: f64) -> String {
    format!("{} %", bare(share))
}

/// "too tight by 1.2 mm", "hangs".
pub fn sits_words(sits: Sits, unit: LengthUnit) -> String {
    sits.by().map_or_else(
        || sits.word().to_owned(),
        |by| format!("{} by {}", sits.word(), wording::length(by, unit)),
    )
}

/// What is too tight stands out in colour and weight.
fn toned(words: impl Into<String>, sits: Sits, palette: &Palette) -> RichText {
    let words = RichText::new(words);
    if matches!(sits, Sits::Tight { .. }) {
        words.color(palette.tight).strong()
    } else {
        words
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_has_no_sign_and_less_has_a_true_minus() {
        assert_eq!([bare(-0.4), bare(0.4), bare(-7.6)], ["0", "0", "\u{2212}8"]);
    }

    #[test]
    fn how_a_girth_sits_is_told_with_its_length() {
        let tight = Sits::Tight { by: Mm(1.25) };
        assert_eq!(
            sits_words(tight, LengthUnit::Millimetre),
            format!("too tight by {}", LengthUnit::Millimetre.show(Mm(1.25)))
        );
        assert_eq!(sits_words(Sits::Hangs, LengthUnit::Millimetre), "hangs");
    }
}
