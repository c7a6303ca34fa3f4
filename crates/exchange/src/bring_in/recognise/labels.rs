//! Which words belong to which piece, and what they say of it.

use std::collections::{BTreeMap, BTreeSet};

use petitoile_core::kurbo::{Point, Vec2};

use super::super::found::{FoundText, Meaning};
use super::counts::{self, Count};
use super::pieces::Work;
use super::sizes;
use super::told::guess;
use super::types::{Alternative, Correction, Guess, GuessKind, OneLine, PieceId, Taken, Thing};
use super::words::{self, Said};
use crate::font;

/// Words further than this from a piece do not belong to it, mm.
const BESIDE: f64 = 12.0;

/// A name that stands on more pieces than this is that of the garment.
const NAMES_ALIKE: usize = 3;

/// Words set below each other.
struct Block {
    texts: Vec<usize>,
    size: f64,
}

/// What was read for a piece.
#[derive(Default)]
struct Read {
    texts: Vec<usize>,
    /// Name, how much speaks for it, the text it stands in.
    names: Vec<(String, f64, bool, usize)>,
    counts: Vec<Count>,
    on_fold: Vec<usize>,
    line: Option<(OneLine, Option<f64>)>,
    /// Texts that say something that is taken.
    said: BTreeSet<usize>,
    /// The texts of each block.
    blocks: Vec<Vec<usize>>,
}

/// The words of the whole sheet on its allowances, if any.
pub(super) fn sheet_line(work: &Work<'_>) -> Option<(OneLine, Option<f64>)> {
    let texts = &work.sheet.texts;
    texts
        .iter()
        .enumerate()
        .filter(|(i, _)| work.choices.taken(Thing::Text(*i)) != Some(Taken::NoPart))
        .find_map(|(_, t)| words::allowance(&t.words))
}

/// The middle of a text.
pub(super) fn middle(text: &FoundText) -> Point {
    let along = Vec2::from_angle(text.turn.to_radians());
    text.at + along * (long(text) / 2.0) + along.turn_90() * (0.3 * text.size)
}

/// About how long a text is, mm.
fn long(text: &FoundText) -> f64 {
    font::width(&text.words, text.size).clamp(0.0, 1e5)
}

/// Reads names, counts and folds of all pieces.
pub(super) fn read(work: &mut Work<'_>) {
    let mut of_piece: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    let mut loose = Vec::new();
    for (i, text) in work.sheet.texts.iter().enumerate() {
        let is_sound = text.at.x.abs() < 1e6 && text.at.y.abs() < 1e6 && text.size.abs() < 1e6;
        if !is_sound || work.choices.taken(Thing::Text(i)) == Some(Taken::NoPart) {
            continue;
        }
        match work.piece_around(middle(text)) {
            Some(piece) => of_piece.entry(piece).or_default().push(i),
            None => loose.push(i),
        }
    }
    let beside = beside(work, &loose);
    for (text, piece) in beside {
        of_piece.entry(piece).or_default().push(text);
    }
    let reads: BTreeMap<usize, Read> = of_piece
        .into_iter()
        .map(|(piece, texts)| (piece, read_texts(work, &texts)))
        .collect();
    // What stands on many pieces is the garment's name.
    let mut times: BTreeMap<String, usize> = BTreeMap::new();
    for read in reads.values() {
        let own: BTreeSet<&String> = read.names.iter().map(|n| &n.0).collect();
        own.into_iter()
            .for_each(|n| *times.entry(n.clone()).or_default() += 1);
    }
    for (piece, read) in reads {
        take(work, piece, read, &times);
    }
    group_names(work);
}

/// Texts outside of all pieces that belong to one: led to it by a line, or close by.
fn beside(work: &Work<'_>, loose: &[usize]) -> Vec<(usize, usize)> {
    let texts = &work.sheet.texts;
    let mut out = Vec::new();
    for block in blocks(texts, loose) {
        let mids: Vec<Point> = block
            .texts
            .iter()
            .filter_map(|i| texts.get(*i))
            .map(middle)
            .collect();
        let near_block = |p: Point| {
            block.texts.iter().filter_map(|i| texts.get(*i)).any(|t| {
                let along = Vec2::from_angle(t.turn.to_radians());
                let d = p - middle(t);
                d.dot(along).abs() <= long(t) / 2.0 + 4.0
                    && d.dot(along.turn_90()).abs() <= t.size + 4.0
            })
        };
        // A line that leads from the words into a piece.
        let led = work
            .strokes
            .iter()
            .filter(|s| !s.closed && s.segs.len() == 1)
            .find_map(|s| {
                [(s.start(), s.end()), (s.end(), s.start())]
                    .into_iter()
                    .find(|(foot, _)| near_block(*foot))
                    .and_then(|(_, end)| work.piece_around(end))
            });
        let near = || {
            let far = |i: usize| {
                mids.iter()
                    .map(|p| {
                        let draft = work.drafts.get(i);
                        draft
                            .filter(|d| d.bounds.inflate(BESIDE, BESIDE).contains(*p))
                            .and_then(|d| work.loops.get(d.outer))
                            .map_or(f64::INFINITY, |l| l.off(*p))
                    })
                    .fold(f64::INFINITY, f64::min)
            };
            (0..work.drafts.len())
                .map(|i| (far(i), i))
                .filter(|(far, _)| *far <= BESIDE)
                .min_by(|a, b| a.0.total_cmp(&b.0))
                .filter(|_| block.size > 0.0)
                .map(|(_, i)| i)
        };
        if let Some(piece) = led.or_else(near) {
            out.extend(block.texts.iter().map(|t| (*t, piece)));
        }
    }
    out
}

/// Texts of one size set below each other, in reading order.
fn blocks(texts: &[FoundText], of: &[usize]) -> Vec<Block> {
    let key = |i: &usize| -> (i64, i64, f64, f64) {
        texts.get(*i).map_or((0, 0, 0.0, 0.0), |t| {
            let along = Vec2::from_angle(t.turn.to_radians());
            let turn = (t.turn.rem_euclid(360.0)).round() as i64;
            (
                turn,
                (t.size * 20.0).round() as i64,
                -t.at.to_vec2().dot(along.turn_90()),
                t.at.to_vec2().dot(along),
            )
        })
    };
    let mut order: Vec<usize> = of.to_vec();
    order.sort_by(|a, b| {
        let (a, b) = (key(a), key(b));
        (a.0, a.1)
            .cmp(&(b.0, b.1))
            .then(a.2.total_cmp(&b.2))
            .then(a.3.total_cmp(&b.3))
    });
    let mut blocks: Vec<Block> = Vec::new();
    let mut open: usize = 0;
    for i in order {
        let Some(text) = texts.get(i) else { continue };
        let (turn, size, down, left) = key(&i);
        let fits = |block: &Block| {
            let Some(last) = block.texts.last() else {
                return false;
            };
            let (t, s, d, l) = key(last);
            let last_long = texts.get(*last).map_or(0.0, long);
            let overlaps = left <= l + last_long && l <= left + long(text);
            t == turn
                && s == size
                && (0.5 * text.size..=2.2 * text.size.max(0.1)).contains(&(down - d))
                && overlaps
        };
        // Only the blocks that were begun close above can still go on.
        let mut found = None;
        for (at, block) in blocks.iter_mut().enumerate().skip(open.saturating_sub(24)) {
            if fits(block) {
                found = Some(at);
                break;
            }
        }
        match found.and_then(|at| blocks.get_mut(at)) {
            Some(block) => block.texts.push(i),
            None => {
                blocks.push(Block {
                    texts: vec![i],
                    size: text.size,
                });
                open = blocks.len();
            }
        }
    }
    blocks
}

fn read_texts(work: &Work<'_>, of: &[usize]) -> Read {
    let texts = &work.sheet.texts;
    let mut read = Read {
        texts: of.to_vec(),
        ..Read::default()
    };
    for block in blocks(texts, of) {
        let words_of = |i: &usize| texts.get(*i).map_or("", |t| t.words.as_str());
        let all: Vec<&str> = block.texts.iter().map(words_of).collect();
        let whole = all.join(" ").replace('\u{a0}', " ");
        let Said {
            counts,
            on_fold,
            line,
            width,
            ..
        } = words::said(&whole);
        let of_whole = words::allowance(&whole).map(|_| (line.unwrap_or(OneLine::Stitch), width));
        read.line = read.line.or(of_whole.filter(|_| line.is_some()));
        let says = |words: &str| {
            !counts::counts(words).is_empty()
                || words::on_fold(words)
                || words::allowance(words).is_some()
                || !work.sizes.is_empty() && sizes::size_words(words).is_some()
        };
        let own: Vec<usize> = block
            .texts
            .iter()
            .copied()
            .filter(|i| says(words_of(i)))
            .collect();
        // What only the lines together say, all of them say.
        let all_say = own.is_empty() && (!counts.is_empty() || on_fold || line.is_some());
        read.said
            .extend(if all_say { block.texts.clone() } else { own });
        read.blocks.push(block.texts.clone());
        let says_fold = |i: &&usize| words::on_fold(words_of(i));
        let one = block.texts.iter().find(says_fold).copied();
        read.on_fold
            .extend(one.or(block.texts.first().copied().filter(|_| on_fold)));
        // "cut 2 shell, 2 lining" says more than "quantity: 4".
        let detail = |list: &[Count]| {
            let sided = list.iter().filter(|c| c.sides.is_some()).count();
            list.len() + sided
        };
        if detail(&counts) > detail(&read.counts) {
            read.counts = counts;
        }
        let first = block.texts.first().copied();
        for (k, i) in block.texts.iter().enumerate() {
            let line = words_of(i).replace('\u{a0}', " ");
            let said = work.choices.taken(Thing::Text(*i));
            let told = texts.get(*i).and_then(|t| t.meaning) == Some(Meaning::PieceText);
            if matches!(said, Some(t) if t != Taken::Name) {
                continue;
            }
            if said == Some(Taken::Name) {
                read.names.push((line.trim().to_owned(), 1e9, true, *i));
                continue;
            }
            // A heading may run over several lines.
            let is_heading = first == Some(*i) && words::name(&line).is_some_and(|n| n.1);
            let goes_on = all.len() <= 3
                && all
                    .iter()
                    .skip(1)
                    .all(|w| words::name(w).is_some_and(|n| !n.1));
            let line = if is_heading && goes_on {
                whole.clone()
            } else {
                line
            };
            if let Some((name, is_sure)) = words::name(&line) {
                let is_first = if k == 0 { 1.0 } else { 0.4 };
                let sure = if is_sure { 10.0 } else { 1.0 };
                let told = if told { 5.0 } else { 1.0 };
                read.names.push((
                    name,
                    block.size.max(0.1) * is_first * sure * told,
                    is_sure,
                    *i,
                ));
            }
            if is_heading {
                break;
            }
        }
    }
    read.names
        .sort_by(|a, b| b.1.total_cmp(&a.1).then(a.3.cmp(&b.3)));
    read
}

/// Puts what was read into the piece, with its guesses.
fn take(work: &mut Work<'_>, at: usize, read: Read, times: &BTreeMap<String, usize>) {
    let Some(draft) = work.drafts.get_mut(at) else {
        return;
    };
    let id = draft.id;
    draft
        .made_of
        .extend(read.texts.iter().map(|i| Thing::Text(*i)));
    let is_common = |n: &str| times.get(n).copied().unwrap_or(0) > NAMES_ALIKE;
    let own = read
        .names
        .iter()
        .find(|n| n.2 || !is_common(&n.0))
        .or(read.names.first());
    if let Some((name, _, is_sure, text)) = own {
        draft.name.clone_from(name);
        let others: Vec<Alternative> = read
            .names
            .iter()
            .filter(|n| n.0 != *name)
            .take(3)
            .map(|n| Alternative {
                words: format!("it is called {}", n.0),
                correction: Correction::Name {
                    piece: id,
                    name: n.0.clone(),
                },
            })
            .collect();
        let place = work.sheet.texts.get(*text).map_or(Point::ZERO, middle);
        work.guesses.push(Guess {
            words: format!("the piece is called {name}"),
            rests_on: if *is_sure {
                "its number stands before it".to_owned()
            } else {
                format!(
                    "the largest words on it, {} of which may be names",
                    read.names.len()
                )
            },
            certainty: if *is_sure {
                0.97
            } else if others.is_empty() {
                0.85
            } else {
                0.7
            },
            alternatives: others,
            ..guess(Some(id), GuessKind::Name, "", place)
        });
    }
    draft.read_texts.extend(&read.said);
    draft.read_texts.extend(own.map(|own| own.3));
    for block in &read.blocks {
        if block.iter().any(|text| draft.read_texts.contains(text)) {
            draft.label_texts.extend(block);
        }
    }
    draft.fold_texts = read.on_fold;
    draft.says_line = read.line;
    if !read.counts.is_empty() {
        draft.counts = read.counts;
    }
}

/// A piece without words takes the name of the group or block it was drawn in, where no other piece shares it.
fn group_names(work: &mut Work<'_>) {
    let group = |id: PieceId| {
        let line = work.sheet.lines.get(id.0)?;
        line.groups
            .iter()
            .rev()
            .find_map(|g| words::name(g))
            .map(|n| n.0)
    };
    let all: Vec<Option<String>> = work.drafts.iter().map(|d| group(d.id)).collect();
    for (i, own) in all.iter().enumerate() {
        let Some(name) = own else { continue };
        let is_alone = all.iter().filter(|n| *n == own).count() == 1;
        if let Some(draft) = work
            .drafts
            .get_mut(i)
            .filter(|d| d.name.is_empty() && is_alone)
        {
            draft.name.clone_from(name);
            let (id, at) = (draft.id, draft.bounds.center());
            work.guesses.push(Guess {
                words: format!("the piece is called {name}"),
                rests_on: "the group it was drawn in has this name".to_owned(),
                certainty: 0.8,
                ..guess(Some(id), GuessKind::Name, "", at)
            });
        }
    }
}

/// What words on the sheet say of the only line of a piece.
pub(super) fn line_told(
    work: &Work<'_>,
    at: usize,
) -> Option<(OneLine, Option<f64>, &'static str)> {
    let draft = work.drafts.get(at)?;
    if let Some((is, width)) = draft.says_line {
        return Some((is, width, "words on the piece say so"));
    }
    sheet_line(work).map(|(is, width)| (is, width, "words on the sheet say so"))
}
