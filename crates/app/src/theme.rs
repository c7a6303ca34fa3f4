//! Colours and sizes of the window: paper, chalk, cloth, thread.
//!
//! Every pair of colours that must be told apart also differs in lightness, so the window reads in grey and for
//! colour-blind eyes (test below). No decisions about what is shown, only how it looks.

use std::sync::Arc;

use egui::{
    Color32, CornerRadius, FontData, FontFamily, FontId, Stroke, TextStyle, Theme, Visuals,
};

/// The colours of the table and what lies on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Palette {
    /// The table: linen grey.
    pub table: Color32,
    /// Fine weave lines on the table.
    pub weave: Color32,
    /// A piece: paper white.
    pub paper: Color32,
    /// Allowance: the pale band between stitch line and cut line.
    pub band: Color32,
    /// Stitch line: fine indigo.
    pub stitch: Color32,
    /// Cut line: heavier madder.
    pub cut: Color32,
    /// An offcut of cloth.
    pub cloth: Color32,
    /// Its threads.
    pub thread: Color32,
    /// The source garment: a chalk ghost.
    pub chalk: Color32,
    /// Grain, folds, notches, words on a piece.
    pub pencil: Color32,
    /// What is chosen.
    pub chosen: Color32,
    /// Words on the window.
    pub ink: Color32,
    /// Words of second rank.
    pub faded: Color32,
    /// Surface of trays.
    pub tray: Color32,
    /// Surface of fields and buttons in trays.
    pub field: Color32,
    /// A girth that is too tight.
    pub tight: Color32,
    /// A girth that is loose or hangs.
    pub loose: Color32,
    /// A finding that makes the garment unusable.
    pub unusable: Color32,
    /// A finding to look at.
    pub care: Color32,
}

const LIGHT: Palette = Palette {
    table: Color32::from_rgb(0xC9, 0xC4, 0xB8),
    weave: Color32::from_rgb(0xBF, 0xB9, 0xAC),
    paper: Color32::from_rgb(0xFD, 0xFC, 0xF8),
    band: Color32::from_rgb(0xF3, 0xDD, 0xD2),
    stitch: Color32::from_rgb(0x2B, 0x3A, 0x7E),
    cut: Color32::from_rgb(0xB0, 0x3A, 0x2E),
    cloth: Color32::from_rgb(0xA3, 0xAE, 0xB0),
    thread: Color32::from_rgb(0x92, 0x9E, 0xA2),
    chalk: Color32::from_rgb(0x8A, 0x9F, 0xAE),
    pencil: Color32::from_rgb(0x4A, 0x47, 0x42),
    chosen: Color32::from_rgb(0xE8, 0xB6, 0x4C),
    ink: Color32::from_rgb(0x2A, 0x28, 0x25),
    faded: Color32::from_rgb(0x66, 0x61, 0x59),
    tray: Color32::from_rgb(0xF1, 0xED, 0xE4),
    field: Color32::from_rgb(0xFB, 0xF9, 0xF4),
    tight: Color32::from_rgb(0x84, 0x16, 0x12),
    loose: Color32::from_rgb(0x5E, 0x8F, 0xB2),
    unusable: Color32::from_rgb(0xA0, 0x22, 0x1C),
    care: Color32::from_rgb(0x8A, 0x5A, 0x00),
};

const DARK: Palette = Palette {
    table: Color32::from_rgb(0x33, 0x31, 0x2D),
    weave: Color32::from_rgb(0x3B, 0x39, 0x34),
    paper: Color32::from_rgb(0xE6, 0xE2, 0xD8),
    band: Color32::from_rgb(0xCF, 0xAF, 0xA2),
    stitch: Color32::from_rgb(0x22, 0x2F, 0x6E),
    cut: Color32::from_rgb(0x9E, 0x2C, 0x22),
    cloth: Color32::from_rgb(0x56, 0x61, 0x66),
    thread: Color32::from_rgb(0x66, 0x72, 0x77),
    chalk: Color32::from_rgb(0x8F, 0xA6, 0xB8),
    pencil: Color32::from_rgb(0x3E, 0x3B, 0x36),
    chosen: Color32::from_rgb(0xE8, 0xB6, 0x4C),
    ink: Color32::from_rgb(0xEA, 0xE6, 0xDC),
    faded: Color32::from_rgb(0xAA, 0xA4, 0x98),
    tray: Color32::from_rgb(0x24, 0x23, 0x20),
    field: Color32::from_rgb(0x2F, 0x2D, 0x29),
    tight: Color32::from_rgb(0xFF, 0xA9, 0x9A),
    loose: Color32::from_rgb(0x50, 0x7E, 0xA2),
    unusable: Color32::from_rgb(0xF0, 0x8A, 0x7C),
    care: Color32::from_rgb(0xE5, 0xB4, 0x5A),
};

impl Palette {
    /// The colours of one theme.
    pub fn of(theme: Theme) -> &'static Self {
        match theme {
            Theme::Light => &LIGHT,
            Theme::Dark => &DARK,
        }
    }

    /// The colours of the theme that is showing.
    pub fn showing(ui: &egui::Ui) -> &'static Self {
        if ui.visuals().dark_mode {
            &DARK
        } else {
            &LIGHT
        }
    }
}

/// Gives a context both themes, the sizes and the font for inch marks, arrows and fractions.
pub fn install(ctx: &egui::Context) {
    ctx.add_font(egui::epaint::text::FontInsert::new(
        "signs",
        FontData::from_static(include_bytes!("../../../assets/fonts/DejaVuSans.ttf")),
        vec![
            fallback(FontFamily::Proportional),
            fallback(FontFamily::Monospace),
        ],
    ));
    // A desktop that says nothing gets paper by daylight.
    ctx.options_mut(|options| options.fallback_theme = Theme::Light);
    for theme in [Theme::Light, Theme::Dark] {
        let mut style = egui::Style {
            visuals: visuals(theme),
            ..egui::Style::default()
        };
        style.spacing.scroll.floating_allocated_width = 9.0;
        style.interaction.selectable_labels = false;
        style.spacing.item_spacing = egui::vec2(8.0, 7.0);
        style.spacing.button_padding = egui::vec2(10.0, 5.0);
        style.spacing.interact_size = egui::vec2(40.0, 28.0);
        style.spacing.slider_width = 150.0;
        style.spacing.icon_width = 18.0;
        style.spacing.combo_width = 120.0;
        style.text_styles = [
            (TextStyle::Heading, FontId::proportional(17.0)),
            (TextStyle::Body, FontId::proportional(14.0)),
            (TextStyle::Button, FontId::proportional(14.0)),
            (TextStyle::Small, FontId::proportional(12.0)),
            (TextStyle::Monospace, FontId::monospace(13.0)),
        ]
        .into();
        ctx.set_style_of(theme, Arc::new(style));
    }
}

fn fallback(family: FontFamily) -> egui::epaint::text::InsertFontFamily {
    egui::epaint::text::InsertFontFamily {
        family,
        priority: egui::epaint::text::FontPriority::Lowest,
    }
}

/// How much of the colour of what is chosen goes under words: by lamplight less, so that pale words stay readable.
fn firm(theme: Theme) -> f32 {
    match theme {
        Theme::Light => 0.65,
        Theme::Dark => 0.4,
    }
}

fn visuals(theme: Theme) -> Visuals {
    let palette = Palette::of(theme);
    let mut v = theme.default_visuals();
    v.override_text_color = None;
    v.panel_fill = palette.tray;
    v.window_fill = palette.tray;
    v.extreme_bg_color = palette.field;
    v.text_edit_bg_color = Some(palette.field);
    v.faint_bg_color = blend(palette.tray, palette.field, 0.6);
    v.window_stroke = Stroke::new(1.0, blend(palette.tray, palette.ink, 0.25));
    let firm = firm(theme);
    v.selection.bg_fill = blend(palette.tray, palette.chosen, firm);
    v.selection.stroke = Stroke::new(1.5, palette.ink);
    v.warn_fg_color = palette.care;
    v.error_fg_color = palette.unusable;
    v.hyperlink_color = palette.stitch;
    v.slider_trailing_fill = true;
    v.weak_text_color = Some(palette.faded);
    let line = blend(palette.tray, palette.ink, 0.22);
    for (state, fill, edge) in [
        (
            &mut v.widgets.noninteractive,
            palette.tray,
            blend(palette.tray, palette.ink, 0.15),
        ),
        (
            &mut v.widgets.inactive,
            blend(palette.tray, palette.ink, 0.07),
            line,
        ),
        (
            &mut v.widgets.hovered,
            blend(palette.tray, palette.chosen, 0.35),
            palette.faded,
        ),
        (
            &mut v.widgets.active,
            blend(palette.tray, palette.chosen, firm),
            palette.ink,
        ),
        (
            &mut v.widgets.open,
            blend(palette.tray, palette.ink, 0.1),
            palette.faded,
        ),
    ] {
        state.bg_fill = fill;
        state.weak_bg_fill = fill;
        state.bg_stroke = Stroke::new(1.0, edge);
        state.fg_stroke = Stroke::new(1.0, palette.ink);
        state.corner_radius = CornerRadius::same(4);
        state.expansion = 0.0;
    }
    // A slider's rail and knob must stand out from the tray.
    v.widgets.inactive.bg_fill = blend(palette.tray, palette.ink, 0.3);
    v.widgets.noninteractive.fg_stroke = Stroke::new(1.0, palette.ink);
    v
}

/// `a` with this share of `b` mixed in.
pub fn blend(a: Color32, b: Color32, share: f32) -> Color32 {
    a.lerp_to_gamma(b, share)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance, W3C "Web Content Accessibility Guidelines 2.2", definition of relative luminance.
    fn luminance(c: Color32) -> f64 {
        let channel = |v: u8| {
            let v = f64::from(v) / 255.0;
            if v <= 0.04045 {
                v / 12.92
            } else {
                ((v + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * channel(c.r()) + 0.7152 * channel(c.g()) + 0.0722 * channel(c.b())
    }

    /// Contrast ratio of the same guidelines.
    fn contrast(a: Color32, b: Color32) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn words_on_every_surface_reach_the_contrast_of_the_accessibility_guidelines() {
        for palette in [LIGHT, DARK] {
            for (words, surface) in [
                (palette.ink, palette.tray),
                (palette.faded, palette.tray),
                (palette.ink, palette.field),
                (palette.unusable, palette.tray),
                (palette.care, palette.tray),
                (palette.pencil, palette.paper),
            ] {
                assert!(
                    contrast(words, surface) >= 4.5,
                    "{words:?} on {surface:?}: {}",
                    contrast(words, surface)
                );
            }
        }
    }

    #[test]
    fn words_on_what_is_chosen_reach_the_same_contrast() {
        for theme in [Theme::Light, Theme::Dark] {
            let (palette, visuals) = (Palette::of(theme), visuals(theme));
            let reached = contrast(palette.ink, visuals.selection.bg_fill);
            assert!(reached >= 4.5, "{theme:?}: {reached}");
        }
    }

    #[test]
    fn tight_and_loose_rings_differ_in_lightness_and_stand_out_from_their_ground() {
        for palette in [LIGHT, DARK] {
            assert!(contrast(palette.tight, palette.loose) >= 2.0);
            for ring in [palette.tight, palette.loose] {
                assert!(contrast(ring, palette.field) >= 3.0, "{ring:?}");
            }
        }
    }

    #[test]
    fn lines_and_surfaces_differ_in_lightness_and_not_in_hue_alone() {
        for palette in [LIGHT, DARK] {
            for (a, b) in [
                (palette.stitch, palette.band),
                (palette.cut, palette.band),
                (palette.cut, palette.paper),
                (palette.paper, palette.table),
                (palette.stitch, palette.cut),
                (palette.paper, palette.band),
                (palette.cloth, palette.table),
                (palette.cloth, palette.paper),
            ] {
                assert!(
                    contrast(a, b) >= 1.2,
                    "{a:?} against {b:?}: {}",
                    contrast(a, b)
                );
            }
        }
    }
}
