//! Counts what a reader leaves out, so that a thousand of a kind become one sentence.

use std::collections::BTreeMap;

use super::Left;

/// Kinds that are told one by one; a broken file may hold a million.
const KINDS: usize = 40;

/// What is left out, by kind: how often, and where first.
#[derive(Debug, Clone, Default)]
pub struct Tally(BTreeMap<String, Kind>);

#[derive(Debug, Clone)]
struct Kind {
    times: u64,
    first: String,
    advice: &'static str,
}

impl Tally {
    /// One more of a kind. `first` says where; it is asked for the first of a kind only.
    pub fn add(&mut self, kind: &str, advice: &'static str, first: impl FnOnce() -> String) {
        self.add_times(kind, 1, advice, first);
    }

    /// So many more of a kind.
    pub fn add_times(
        &mut self,
        kind: &str,
        times: u64,
        advice: &'static str,
        first: impl FnOnce() -> String,
    ) {
        if let Some(known) = self.0.get_mut(kind) {
            known.times = known.times.saturating_add(times);
            return;
        }
        let kind = if self.0.len() < KINDS {
            kind.chars().take(120).collect()
        } else {
            "other things".to_owned()
        };
        self.0
            .entry(kind)
            .and_modify(|known| known.times = known.times.saturating_add(times))
            .or_insert_with(|| Kind {
                times,
                first: first(),
                advice,
            });
    }

    /// One sentence for each kind.
    pub fn into_left(self) -> Vec<Left> {
        self.0
            .into_iter()
            .map(|(kind, told)| Left {
                what: match (told.times, told.first.is_empty()) {
                    (1, true) => kind,
                    (1, false) => format!("{kind} ({})", told.first),
                    (times, true) => format!("{kind}: {times}"),
                    (times, false) => format!("{kind}: {times}, the first {}", told.first),
                },
                advice: told.advice.to_owned(),
            })
            .collect()
    }
}
