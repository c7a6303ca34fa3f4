//! The trays of the window, left to right.

/// The trays of the window.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Tray {
    /// Whom it is for.
    #[default]
    Body,
    /// Drawn and altered by hand.
    Chalk,
    /// How it fits.
    Fit,
    /// Pleats, gathers, strips.
    Folds,
    /// Where on cloth it is cut.
    Cloth,
    /// How it is printed.
    Paper,
    /// In which order it is sewn.
    Make,
}

impl Tray {
    /// Every tray, left to right.
    pub const ALL: [Self; 7] = [
        Self::Body,
        Self::Chalk,
        Self::Fit,
        Self::Folds,
        Self::Cloth,
        Self::Paper,
        Self::Make,
    ];

    /// Is it one in which the maker alters pieces by hand?
    pub fn is_of_hand_work(self) -> bool {
        matches!(self, Self::Chalk | Self::Folds)
    }

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Self::Body => "Body",
            Self::Chalk => "Chalk",
            Self::Fit => "Fit",
            Self::Folds => "Folds",
            Self::Cloth => "Cloth",
            Self::Paper => "Paper",
            Self::Make => "Make",
        }
    }
}
