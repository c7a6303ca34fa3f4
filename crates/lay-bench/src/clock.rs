//! Seconds of one core.

use std::time::Instant;

/// Counts the time the program had a core for, where the system tells (Linux); else the time that passes. So that what else a
/// machine does changes the measure as little as may be.
#[derive(Clone, Copy, Debug)]
pub struct Clock {
    start: Instant,
    start_on_core: Option<f64>,
}

impl Clock {
    /// Starts to count.
    #[must_use]
    pub fn start() -> Self {
        Self {
            start: Instant::now(),
            start_on_core: on_core(),
        }
    }

    /// Seconds since the start.
    #[must_use]
    pub fn seconds(&self) -> f64 {
        match (on_core(), self.start_on_core) {
            (Some(now), Some(start)) => now - start,
            _ => self.start.elapsed().as_secs_f64(),
        }
    }

    /// What is counted, in words.
    #[must_use]
    pub fn kind() -> &'static str {
        if on_core().is_some() {
            "seconds on the core"
        } else {
            "seconds passed"
        }
    }
}

/// First number of the file: nanoseconds on a core.
fn on_core() -> Option<f64> {
    let text = std::fs::read_to_string("/proc/self/schedstat").ok()?;
    let nanoseconds: f64 = text.split_whitespace().next()?.parse().ok()?;
    Some(nanoseconds * 1e-9)
}
