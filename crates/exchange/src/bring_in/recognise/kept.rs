//! Words on a piece that nobody read: kept as marks, or told.

use petitoile_core::piece::{Mark, MarkKind};

use super::super::found::FoundText;
use super::labels::middle;
use super::pieces::Work;
use super::told::guess;
use super::types::{Alternative, Correction, Guess, GuessKind, PieceId, Taken, Thing};
use super::words;

/// So many words are named in one guess.
const NAMED: usize = 8;

/// Keeps what nobody read: words that stand by themselves become marks, lines of a label and words beside lines are told.
pub(super) fn keep(work: &mut Work<'_>) {
    for at in 0..work.drafts.len() {
        let Some(draft) = work.drafts.get(at) else {
            continue;
        };
        let texts = &work.sheet.texts;
        let spare: Vec<usize> = draft
            .made_of
            .iter()
            .filter_map(|thing| match thing {
                Thing::Text(i) => Some(*i),
                _ => None,
            })
            .filter(|i| !draft.read_texts.contains(i) && !draft.mark_texts.contains(i))
            .collect();
        let is_kept = |i: &usize| match work.choices.taken(Thing::Text(*i)) {
            Some(taken) => taken == Taken::Words,
            None => {
                let words = texts.get(*i).map_or("", |t| t.words.as_str());
                !draft.label_texts.contains(i) && words::speaks(words)
            }
        };
        let (kept, left): (Vec<usize>, Vec<usize>) = spare.iter().partition(|i| is_kept(i));
        let marks: Vec<Mark> = kept
            .iter()
            .filter_map(|i| texts.get(*i))
            .map(|text| Mark {
                name: text.words.trim().to_owned(),
                kind: MarkKind::Text(middle(text)),
            })
            .collect();
        let id = draft.id;
        // What systems write on every piece ("Size: M") is known and of no use here.
        let is_known = |i: &usize| texts.get(*i).is_some_and(|t| words::is_key(&t.words));
        let doubt = if left.iter().all(is_known) { 1.0 } else { 0.8 };
        let told = [
            ("kept", "words kept on the piece", &kept, 0.7),
            ("left", "words that are not kept", &left, doubt),
        ];
        let guesses: Vec<Guess> = told
            .into_iter()
            .filter_map(|(about, what, which, certainty)| {
                words_guess(texts, id, (about, what), which, certainty)
            })
            .collect();
        work.guesses.extend(guesses);
        if let Some(draft) = work.drafts.get_mut(at) {
            draft.marks.extend(marks);
        }
    }
}

/// One guess that names words and where the first of them stands; `None` where there are none.
fn words_guess(
    texts: &[FoundText],
    id: PieceId,
    (about, what): (&str, &str),
    which: &[usize],
    certainty: f64,
) -> Option<Guess> {
    let first = texts.get(*which.first()?)?;
    let named: Vec<String> = which
        .iter()
        .take(NAMED)
        .filter_map(|i| texts.get(*i))
        .map(|t| format!("\"{}\"", t.words.trim()))
        .collect();
    let more = match which.len().saturating_sub(NAMED) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let taken = if about == "kept" {
        ("they are not kept", Taken::NoPart)
    } else {
        ("they are kept on the piece", Taken::Words)
    };
    let alternatives = which.iter().take(NAMED).filter_map(|i| {
        let words = texts.get(*i)?.words.trim();
        Some(Alternative {
            words: format!("\"{words}\": {}", taken.0),
            correction: Correction::Is {
                thing: Thing::Text(*i),
                taken: taken.1,
            },
        })
    });
    Some(Guess {
        words: format!("{what}: {}{more}", named.join(", ")),
        rests_on: "they are neither name nor count, fold, allowance or size".to_owned(),
        certainty,
        alternatives: alternatives.collect(),
        ..guess(Some(id), GuessKind::Words, about, middle(first))
    })
}
