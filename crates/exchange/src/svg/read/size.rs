//! How large an SVG says it is, and whether that is a real length.

use std::str::FromStr;

use roxmltree::Node;
use svgtypes::{Length, LengthUnit, ViewBox};

use crate::bring_in::Scale;

/// One px of SVG and CSS, mm: 1/96 inch (CSS Values and Units 3, 6.2).
pub(crate) const PX: f64 = 25.4 / 96.0;

/// Size where there is none, px: what CSS gives to a picture without one.
const UNKNOWN: (f64, f64) = (300.0, 150.0);

/// Beyond this a size is none, px: 1,000 km of paper is a slip.
const MOST: f64 = 4e9;

/// How large an SVG is.
pub(super) struct Size {
    /// Width, px.
    pub width: f64,
    /// Height, px.
    pub height: f64,
    /// Does the file itself say so?
    pub known: bool,
    /// Is that a real length?
    pub scale: Scale,
}

#[derive(Clone, Copy, PartialEq)]
enum Side {
    Real(f64),
    Px(f64),
    Share,
    None,
}

impl Size {
    /// Of the outermost element.
    pub(super) fn of(root: Node<'_, '_>) -> Self {
        let (width, height) = (side(root, "width"), side(root, "height"));
        let view = root
            .attribute("viewBox")
            .and_then(|words| ViewBox::from_str(words).ok())
            .filter(|view| view.w.is_finite() && view.h.is_finite());
        let ratio = view
            .map(|view| view.h / view.w)
            .filter(|r| r.is_finite() && 0.0 < *r);
        let size = match (width.px(), height.px(), ratio) {
            (Some(width), Some(height), _) => Some((width, height)),
            (Some(width), None, Some(ratio)) => Some((width, width * ratio)),
            (None, Some(height), Some(ratio)) => Some((height / ratio, height)),
            (None, None, Some(_)) => view.map(|view| (view.w, view.h)),
            (width, height, None) => width
                .map(|width| (width, UNKNOWN.1))
                .or(height.map(|height| (UNKNOWN.0, height))),
        };
        let real = matches!(width, Side::Real(_)) || matches!(height, Side::Real(_));
        let px = matches!(width, Side::Px(_)) || matches!(height, Side::Px(_));
        let scale = if real && !px {
            Scale::Given
        } else if px {
            Scale::Taken("its size is given in px, taken as 96 to an inch".to_owned())
        } else if width == Side::Share || height == Side::Share {
            Scale::Taken(
                "its size is a share of the screen; one unit was taken as 1/96 inch".to_owned(),
            )
        } else {
            Scale::Taken("it gives no size; one unit was taken as 1/96 inch".to_owned())
        };
        let sound = size.filter(|(w, h)| [w, h].iter().all(|x| 0.0 < **x && **x < MOST));
        let (width, height) = sound.unwrap_or(UNKNOWN);
        Self {
            width,
            height,
            known: sound.is_some(),
            scale,
        }
    }
}

impl Side {
    fn px(self) -> Option<f64> {
        match self {
            Self::Real(px) | Self::Px(px) => Some(px),
            Self::Share | Self::None => None,
        }
    }
}

fn side(root: Node<'_, '_>, name: &str) -> Side {
    let Some(words) = root.attribute(name) else {
        return Side::None;
    };
    let words = words.trim();
    // CSS knows quarter millimetres; SVG 1.1 and its readers do not.
    if let Some(quarters) = words
        .strip_suffix(['Q', 'q'])
        .and_then(|figure| figure.trim().parse::<f64>().ok())
    {
        return sound(Side::Real(quarters / 4.0 / PX));
    }
    let Ok(length) = Length::from_str(words) else {
        return Side::None;
    };
    let n = length.number;
    sound(match length.unit {
        LengthUnit::Mm => Side::Real(n / PX),
        LengthUnit::Cm => Side::Real(n * 10.0 / PX),
        LengthUnit::In => Side::Real(n * 96.0),
        LengthUnit::Pt => Side::Real(n * 96.0 / 72.0),
        LengthUnit::Pc => Side::Real(n * 16.0),
        LengthUnit::Px | LengthUnit::None => Side::Px(n),
        LengthUnit::Em => Side::Px(n * 16.0),
        LengthUnit::Ex => Side::Px(n * 8.0),
        LengthUnit::Percent => Side::Share,
    })
}

fn sound(side: Side) -> Side {
    match side.px() {
        Some(px) if !(0.0 < px && px < MOST) => Side::None,
        _ => side,
    }
}
