//! What pages say of their own place: "page 3 of 12", "3/12", "A2", "row 1, column 2".
//!
//! A label is what stands in the same place on (nearly) every page and says something else on each. So a map of the whole
//! sheet, which is the same on all, is none, and codes at the seams, which stand on two pages each, are none either.

use std::collections::{BTreeMap, BTreeSet};

use crate::bring_in::FoundDrawing;
use crate::bring_in::tongues::{self, is};

/// Labels stand this near to the same place on every page, mm: centred words are not all as long.
const PLACE: f64 = 14.0;

/// Share of the pages that must have one.
const SHARE: f64 = 0.75;

/// Greatest number that is believed.
const MOST: usize = 400;

/// What a label says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Says {
    /// Page so many, of so many (0: not told).
    Page(usize, usize),
    /// A letter and a figure, counted from 0.
    Cell(usize, usize),
    /// Row and column, counted from 0.
    RowColumn(usize, usize),
}

/// What the pages' labels tell.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Numbered {
    /// The place of every page in the counting; `None` where a page has no number.
    Order(Vec<Option<usize>>),
    /// Row and column of every page. Is it known which is which?
    Grid {
        cells: Vec<Option<(usize, usize)>>,
        is_sure: bool,
    },
}

/// One kind of label in one place.
struct Slot {
    at: (f64, f64),
    /// By page.
    says: BTreeMap<usize, Says>,
}

/// Looks for labels.
pub(super) fn numbered(drawing: &FoundDrawing) -> Option<Numbered> {
    let count = drawing.sheets.len();
    if count < 2 {
        return None;
    }
    let mut slots: Vec<Slot> = Vec::new();
    for (page, sheet) in drawing.sheets.iter().enumerate() {
        for text in &sheet.texts {
            let Some(says) = says(&text.words) else {
                continue;
            };
            let at = text.at - sheet.bounds.origin();
            put(&mut slots, page, says, (at.x, at.y));
        }
    }
    let best = slots
        .iter()
        .filter_map(|slot| Some((worth(slot, count)?, slot)))
        .max_by(|a, b| a.0.total_cmp(&b.0))?
        .1;
    Some(told(best, count))
}

/// Puts a label into the slot of its kind and place.
fn put(slots: &mut Vec<Slot>, page: usize, says: Says, at: (f64, f64)) {
    /// More places than this are not looked at: a ruler with its figures, a table.
    const MOST_SLOTS: usize = 200;
    let kind = std::mem::discriminant(&says);
    let near = |slot: &&mut Slot| {
        let (x, y) = slot.at;
        (x - at.0).abs() <= PLACE
            && (y - at.1).abs() <= PLACE / 4.0
            && !slot.says.contains_key(&page)
            && slot
                .says
                .values()
                .all(|other| std::mem::discriminant(other) == kind)
    };
    if let Some(slot) = slots.iter_mut().find(near) {
        slot.says.insert(page, says);
    } else if slots.len() < MOST_SLOTS {
        slots.push(Slot {
            at,
            says: BTreeMap::from([(page, says)]),
        });
    }
}

/// How much a slot is to be believed; `None`: it is no label.
fn worth(slot: &Slot, count: usize) -> Option<f64> {
    let on = slot.says.len();
    if on < 2 || (on as f64) < SHARE * count as f64 {
        return None;
    }
    let values: BTreeSet<Says> = slot.says.values().copied().collect();
    if values.len() != on {
        return None;
    }
    let (kind, fits) = match slot.says.values().next()? {
        Says::Page(..) => {
            let all: Vec<(usize, usize)> = values
                .iter()
                .filter_map(|v| match v {
                    Says::Page(n, of) => Some((*n, *of)),
                    _ => None,
                })
                .collect();
            let (_, of) = *all.first()?;
            let same = all.iter().all(|(_, o)| *o == of);
            let (least, most) = (all.first()?.0, all.last()?.0);
            // Bare figures must be a counting without many gaps.
            let dense = most - least < on + 2 + on / 4;
            let within = of == 0 || most <= of;
            (if of > 0 { 3.0 } else { 1.0 }, same && dense && within)
        }
        Says::RowColumn(..) => (4.0, true),
        Says::Cell(..) => {
            let cells = values.iter().filter_map(|v| match v {
                Says::Cell(a, b) => Some((*a, *b)),
                _ => None,
            });
            let (mut a, mut b) = (BTreeSet::new(), BTreeSet::new());
            for (x, y) in cells {
                a.insert(x);
                b.insert(y);
            }
            // Blank pages are often left out of a print.
            (
                2.0,
                a.len() * b.len() <= 2 * on + 2 && (a.len() > 1 || b.len() > 1),
            )
        }
    };
    fits.then_some(kind + on as f64 / count as f64)
}

fn told(slot: &Slot, count: usize) -> Numbered {
    let mut cells = vec![None; count];
    let mut order = vec![None; count];
    let mut is_sure = false;
    let mut is_grid = false;
    for (page, says) in &slot.says {
        match says {
            Says::Page(n, _) => {
                if let Some(place) = order.get_mut(*page) {
                    *place = Some(*n);
                }
            }
            Says::Cell(a, b) | Says::RowColumn(a, b) => {
                is_grid = true;
                is_sure |= matches!(says, Says::RowColumn(..));
                if let Some(cell) = cells.get_mut(*page) {
                    *cell = Some((*a, *b));
                }
            }
        }
    }
    if is_grid {
        Numbered::Grid { cells, is_sure }
    } else {
        Numbered::Order(order)
    }
}

/// What words say of the page they stand on.
fn says(words: &str) -> Option<Says> {
    if words.len() > 80 {
        return None;
    }
    let lower = words.to_lowercase();
    let parts: Vec<&str> = lower
        .split(|c: char| !c.is_alphanumeric() && c != '/')
        .flat_map(|w| split_at_slash(w))
        .filter(|w| !w.is_empty())
        .collect();
    let word = |i: usize| parts.get(i).copied().unwrap_or_default();
    let figure = |i: usize| -> Option<usize> {
        let n = word(i).parse::<usize>().ok()?;
        (1..=MOST).contains(&n).then_some(n)
    };
    // "row 2 column 3", "column 3, row 2"
    let behind = |list: &str| {
        (0..parts.len())
            .find(|i| is(list, word(*i)) && figure(i + 1).is_some())
            .and_then(|i| figure(i + 1))
    };
    if let (Some(row), Some(column)) = (behind(tongues::ROW), behind(tongues::COLUMN)) {
        return Some(Says::RowColumn(row - 1, column - 1));
    }
    // "r2c3" and the like stand in one word.
    if let [one] = parts.as_slice()
        && let Some(cell) = row_column(one)
    {
        return Some(cell);
    }
    // "page 3 of 12", "3 of 12", "3/12"; the last such pair, since a title may go before.
    let pair = (0..parts.len()).rev().find_map(|i| {
        let (n, of) = (figure(i)?, figure(i + 2)?);
        let told = i > 0 && is(tongues::PAGE, word(i - 1));
        let alone = parts.len() == 3;
        (is(tongues::OF, word(i + 1)) && n <= of && (told || alone)).then_some((n, of))
    });
    if let Some((n, of)) = pair {
        return Some(Says::Page(n, of));
    }
    // "page 3"
    let told = (0..parts.len()).find(|i| is(tongues::PAGE, word(*i)) && figure(i + 1).is_some());
    if let Some(i) = told.filter(|i| parts.len() - i <= 2) {
        return figure(i + 1).map(|n| Says::Page(n, 0));
    }
    match parts.as_slice() {
        [_] => figure(0)
            .map(|n| Says::Page(n, 0))
            .or_else(|| cell(word(0))),
        [a, b] if a.len() == 1 || b.len() == 1 => cell(&format!("{a}{b}")),
        [a, _] if is(tongues::PAGE, a) => cell(word(1)),
        _ => None,
    }
}

/// "3/12" is three words.
fn split_at_slash(word: &str) -> Vec<&str> {
    match word.split_once('/') {
        Some((a, b)) => vec![a, "/", b],
        None => vec![word],
    }
}

/// "a2", "2a", "b12": a letter and a figure.
fn cell(word: &str) -> Option<Says> {
    let letter = |c: char| c.is_ascii_lowercase().then(|| c as usize - 'a' as usize);
    let (first, last) = (word.chars().next()?, word.chars().last()?);
    let figure = |w: Option<&str>| -> Option<usize> {
        let n = w?.parse::<usize>().ok()?;
        (1..=60).contains(&n).then(|| n - 1)
    };
    letter(first)
        .zip(figure(word.get(1..)))
        .or_else(|| letter(last).zip(figure(word.get(..word.len().saturating_sub(1)))))
        .map(|(a, b)| Says::Cell(a, b))
}

/// "r2c3"
fn row_column(word: &str) -> Option<Says> {
    let (row, column) = word.strip_prefix('r')?.split_once('c')?;
    let figure = |w: &str| w.parse::<usize>().ok().filter(|n| (1..=MOST).contains(n));
    Some(Says::RowColumn(figure(row)? - 1, figure(column)? - 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_of_pages_in_the_words_of_several_languages() {
        for (words, wanted) in [
            ("page 3 of 12", Some(Says::Page(3, 12))),
            ("Summer dress, page 3 of 12", Some(Says::Page(3, 12))),
            ("3/12", Some(Says::Page(3, 12))),
            ("Seite 3 von 12", Some(Says::Page(3, 12))),
            ("page 3 sur 12", Some(Says::Page(3, 12))),
            ("pagina 3 di 12", Some(Says::Page(3, 12))),
            ("Página 3 de 12", Some(Says::Page(3, 12))),
            ("pagina 3 van 12", Some(Says::Page(3, 12))),
            ("Blatt 7", Some(Says::Page(7, 0))),
            ("7", Some(Says::Page(7, 0))),
            ("A1", Some(Says::Cell(0, 0))),
            ("C 4", Some(Says::Cell(2, 3))),
            ("2B", Some(Says::Cell(1, 1))),
            ("Page B2", Some(Says::Cell(1, 1))),
            ("row 2, column 3", Some(Says::RowColumn(1, 2))),
            ("Spalte 3 Reihe 2", Some(Says::RowColumn(1, 2))),
            ("R2C3", Some(Says::RowColumn(1, 2))),
            ("cut 2", None),
            ("Front", None),
            ("50 mm", None),
            ("page 13 of 12", None),
        ] {
            assert_eq!(says(words), wanted, "{words}");
        }
    }
}
