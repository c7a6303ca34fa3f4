//! What the maker already has: drawings, printed sheets and photographs become pieces.
//!
//! The way runs forward only: a reader ([`read`]) makes one neutral [`FoundDrawing`]; the pages of a printed sheet are
//! joined ([`sheets`]) and its scale checked against its own test square ([`scale`]); `recognise` makes pieces of lines,
//! every guess with its doubt. Making the garment ready to adapt is no matter of files and lies in the core.
//!
//! These are foreign files: every reader counts what it does against [`Limits`] and stops with a clear error, it never
//! panics and never hangs. Never here: paths, clocks, threads, the window.

mod error;
mod found;
mod limits;
pub mod recognise;
mod round;
pub mod scale;
pub mod sheets;
mod tally;
mod tongues;
mod traced;
mod watch;

pub use error::BringInError;
pub use found::{
    FoundDrawing, FoundLine, FoundPoint, FoundSheet, FoundText, Kind, Left, Meaning, Scale,
};
pub use limits::Limits;
pub(crate) use round::arc;
pub use tally::Tally;
pub use traced::traced_drawing;
pub use watch::{Pace, Watch};

/// Reads a file of any kind that is understood, told apart by its bytes, never by its name.
///
/// `name` is used in messages only.
///
/// # Errors
/// [`BringInError`] naming the file and what to do: unknown kind, broken, or beyond one of the limits.
pub fn read(
    bytes: &[u8],
    name: &str,
    limits: &Limits,
    watch: &Watch<'_>,
) -> Result<FoundDrawing, BringInError> {
    limits.admit(bytes, name)?;
    match Kind::of(bytes) {
        Some(Kind::Svg) => crate::svg::read::read(bytes, name, limits, watch),
        Some(Kind::Dxf) => crate::dxf::read::read(bytes, name, limits, watch),
        Some(Kind::Pdf) => crate::pdf::read::read(bytes, name, limits, watch),
        Some(Kind::Picture) => Err(BringInError::IsPicture {
            file: name.to_owned(),
        }),
        None => Err(BringInError::UnknownKind {
            file: name.to_owned(),
        }),
    }
}
