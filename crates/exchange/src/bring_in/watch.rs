//! How far long work is, and whether it is to stop.

use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

use super::BringInError;

/// Lets long work tell how far it is and be stopped from outside. Without either it just runs.
#[derive(Debug, Clone, Copy, Default)]
pub struct Watch<'a> {
    /// Set from outside: stop now.
    pub stop: Option<&'a AtomicBool>,
    /// Written here: thousandths done.
    pub done: Option<&'a AtomicU32>,
}

impl Watch<'_> {
    /// Tells how far the work is, 0 to 1, and asks whether to go on.
    ///
    /// # Errors
    /// [`BringInError::Stopped`] when it is to stop.
    pub fn at(&self, share: f64, file: &str) -> Result<(), BringInError> {
        if let Some(done) = self.done {
            done.store((share.clamp(0.0, 1.0) * 1000.0) as u32, Ordering::Relaxed);
        }
        if self.is_stopped() {
            return Err(BringInError::Stopped {
                file: file.to_owned(),
            });
        }
        Ok(())
    }

    /// Is it to stop?
    pub fn is_stopped(&self) -> bool {
        self.stop.is_some_and(|stop| stop.load(Ordering::Relaxed))
    }
}

/// A part of long work that is watched: steps tell their own share, the whole is counted from it.
#[derive(Debug, Clone, Copy)]
pub struct Pace<'a> {
    watch: Watch<'a>,
    file: &'a str,
    from: f64,
    to: f64,
}

impl Default for Pace<'_> {
    /// Work that nobody watches: it just runs.
    fn default() -> Self {
        Self::new(&Watch::default(), "")
    }
}

impl<'a> Pace<'a> {
    /// The whole of some work on a file.
    pub fn new(watch: &Watch<'a>, file: &'a str) -> Self {
        Self {
            watch: *watch,
            file,
            from: 0.0,
            to: 1.0,
        }
    }

    /// The part between two shares of this one.
    #[must_use]
    pub fn part(&self, from: f64, to: f64) -> Self {
        let at = |share: f64| self.from + (self.to - self.from) * share;
        Self {
            from: at(from),
            to: at(to),
            ..*self
        }
    }

    /// Tells a share of this part, 0 to 1, and stops when that is wanted.
    ///
    /// # Errors
    /// [`BringInError::Stopped`] when it is to stop.
    pub fn at(&self, share: f64) -> Result<(), BringInError> {
        self.watch
            .at(self.from + (self.to - self.from) * share, self.file)
    }

    /// The same for the one of so many steps.
    ///
    /// # Errors
    /// [`BringInError::Stopped`] when it is to stop.
    pub fn step(&self, at: usize, of: usize) -> Result<(), BringInError> {
        self.at(at as f64 / of.max(1) as f64)
    }
}
