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
