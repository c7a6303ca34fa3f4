//! Cut counts in words: "cut 2 shell, 2 lining (1 left, 1 right)", in the languages of [`tongues`].

use petitoile_core::piece::Role;

use super::super::tongues::{self, is};

/// "2 lining (1 left, 1 right)".
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Count {
    pub role: Role,
    pub number: usize,
    /// Left and right, where they are told.
    pub sides: Option<(usize, usize)>,
}

/// At most so many copies are believed.
const MOST: usize = 40;

/// Words in small letters, split where neither letter, figure nor point stands.
pub(super) fn tokens(words: &str) -> Vec<String> {
    let mut all = Vec::new();
    let mut word = String::new();
    let mut last = ' ';
    for c in words.to_lowercase().chars().chain([' ']) {
        let is_in = c.is_alphanumeric()
            || (c == '.' && last.is_ascii_digit())
            || c == '/' && last.is_ascii_digit();
        // "2x" and "x2" are two words.
        let splits = last.is_ascii_digit() && c.is_alphabetic()
            || last.is_alphabetic() && c.is_ascii_digit();
        if (!is_in || splits) && !word.is_empty() {
            all.push(
                std::mem::take(&mut word)
                    .trim_end_matches(['.', '/'])
                    .to_owned(),
            );
        }
        if is_in {
            word.push(c);
        }
        last = c;
    }
    all
}

pub(super) fn role(word: &str) -> Option<Role> {
    let lists = [
        (tongues::SHELL, Role::Shell),
        (tongues::LINING, Role::Lining),
        (tongues::INTERLINING, Role::Interlining),
        ("flat", Role::FlatLined),
    ];
    lists
        .into_iter()
        .find(|(list, _)| is(list, word))
        .map(|(_, role)| role)
}

/// Does a word say that something is cut?
pub(super) fn is_cut(word: &str) -> bool {
    is(tongues::CUT, word)
}

/// "cut 2 shell, 2 lining (1 left, 1 right)", "CUT 1 ON FOLD", "2x", "cut one pair", "2x zuschneiden", "couper 2 fois".
pub(super) fn counts(words: &str) -> Vec<Count> {
    let all = tokens(words);
    let word = |i: usize| all.get(i).map(String::as_str).unwrap_or_default();
    let find = |is: &dyn Fn(&str) -> bool| (0..all.len()).find(|i| is(word(*i)));
    // What says how it is cut says more than a bare quantity.
    let verb = find(&is_cut);
    let times = (0..all.len()).find(|i| {
        number(word(*i)).is_some() && is(tongues::TIMES, word(i + 1))
            || matches!(word(*i), "x" | "\u{d7}") && number(word(i + 1)).is_some()
    });
    // The number may stand before the verb: "2 zuschneiden", "2x knippen", "Oberstoff: 2 Teile zuschneiden".
    let before_verb = verb.map(|v| {
        let from = v.saturating_sub(3);
        let is_side = is(tongues::LEFT, word(v + 2)) || is(tongues::RIGHT, word(v + 2));
        let behind = number(word(v + 1)).is_some() && !is_side;
        let here = (from..v).find(|i| !behind && number(word(*i)).is_some());
        let near = times.filter(|t| !behind && *t < v);
        near.or(here).unwrap_or(v)
    });
    let start = before_verb.or_else(|| find(&|w| w == "quantity"));
    let role_first = (0..all.len().min(2)).find(|i| role(word(*i)).is_some());
    let Some(start) = start.or(times) else {
        return Vec::new();
    };
    let mut found: Vec<Count> = Vec::new();
    let before = role_first
        .filter(|r| *r < start)
        .and_then(|r| role(word(r)));
    let mut i = start;
    let mut open: Option<usize> = None;
    while i < all.len() {
        let here = word(i);
        let article = i.checked_sub(1).filter(|b| is_cut(word(*b)));
        let counted = number(here).or_else(|| article.and_then(|_| one(here)));
        match (counted, role(here)) {
            (Some(n), _) if is(tongues::LEFT, word(i + 1)) || is(tongues::RIGHT, word(i + 1)) => {
                if let Some(last) = found.last_mut() {
                    let sides = last.sides.get_or_insert((0, 0));
                    if is(tongues::LEFT, word(i + 1)) {
                        sides.0 = n;
                    } else {
                        sides.1 = n;
                    }
                }
                i += 1;
            }
            (Some(n), _) => {
                let n = if is(tongues::PAIR, word(i + 1)) {
                    2 * n
                } else {
                    n
                };
                found.push(Count {
                    role: before.unwrap_or(Role::Shell),
                    number: n.min(MOST),
                    sides: None,
                });
                open = Some(found.len() - 1);
            }
            (None, Some(role)) => {
                if here == "flat" {
                    i += 1;
                }
                match (open.take(), found.last().copied()) {
                    (Some(at), _) => {
                        if let Some(count) = found.get_mut(at) {
                            count.role = role;
                        }
                    }
                    (None, Some(last)) if found.iter().all(|c| c.role != role) => {
                        found.push(Count { role, ..last });
                    }
                    _ => {}
                }
            }
            _ if is_cut(here)
                || [tongues::TIMES, tongues::PAIR, tongues::LITTLE]
                    .iter()
                    .any(|list| is(list, here)) => {}
            _ => break,
        }
        i += 1;
    }
    // "cut 2 (1 left, 1 right)" after several roles holds for all of them.
    if let Some(sides) = found.last().and_then(|c| c.sides) {
        for count in &mut found {
            if count.sides.is_none() && sides.0 + sides.1 == count.number {
                count.sides = Some(sides);
            }
        }
    }
    found.retain(|c| c.number > 0);
    found
}

fn number(word: &str) -> Option<usize> {
    let told = tongues::NUMBERS.iter();
    let named = told.filter(|n| !n.2).find(|n| n.0 == word).map(|n| n.1);
    named.or_else(|| word.parse().ok())
}

/// An article that counts right behind the verb: "couper une paire".
fn one(word: &str) -> Option<usize> {
    let told = tongues::NUMBERS.iter();
    told.filter(|n| n.2).find(|n| n.0 == word).map(|n| n.1)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;
    use Role::{Interlining, Lining, Shell};

    fn cut(words: &str) -> Vec<(Role, usize)> {
        counts(words).iter().map(|c| (c.role, c.number)).collect()
    }

    #[test]
    fn cut_counts_as_they_stand_on_pieces() {
        for (words, wanted) in [
            ("cut 2", vec![(Shell, 2)]),
            ("CUT 1 ON FOLD", vec![(Shell, 1)]),
            ("2x", vec![(Shell, 2)]),
            ("x4", vec![(Shell, 4)]),
            ("cut 2 shell 2 lining", vec![(Shell, 2), (Lining, 2)]),
            ("Cut 2 shell and lining", vec![(Shell, 2), (Lining, 2)]),
            ("cut one pair", vec![(Shell, 2)]),
            ("lining: cut 2", vec![(Lining, 2)]),
            ("cut 2 from interfacing", vec![(Interlining, 2)]),
            (
                "cut 1 main fabric, cut 1 interfacing",
                vec![(Shell, 1), (Interlining, 1)],
            ),
            ("cut line", vec![]),
            ("cut 2 cloth: lawn of 30 threads", vec![(Shell, 2)]),
            ("size 12", vec![]),
            (
                "QUANTITY: 4 MATERIAL: shell, lining ANNOTATION: cut 2 shell, 2 lining",
                vec![(Shell, 2), (Lining, 2)],
            ),
            ("Quantity: 2", vec![(Shell, 2)]),
            ("2x zuschneiden", vec![(Shell, 2)]),
            ("1x im Stoffbruch zuschneiden", vec![(Shell, 1)]),
            ("2 mal aus Oberstoff zuschneiden", vec![(Shell, 2)]),
            ("2x Oberstoff, 2x Futter", vec![(Shell, 2), (Lining, 2)]),
            ("Futter 2x zuschneiden", vec![(Lining, 2)]),
            ("couper 2 fois dans le tissu", vec![(Shell, 2)]),
            ("couper une paire", vec![(Shell, 2)]),
            ("Couper 1 fois au pli", vec![(Shell, 1)]),
            ("couper 2 tissu et doublure", vec![(Shell, 2), (Lining, 2)]),
            ("tagliare 2 volte", vec![(Shell, 2)]),
            (
                "tagliare 1 sulla ripiegatura, 1 fodera",
                vec![(Shell, 1), (Lining, 1)],
            ),
            ("Taglia 42", vec![]),
            ("cortar 2 veces en tela", vec![(Shell, 2)]),
            (
                "cortar 1 al doblez, 1 entretela",
                vec![(Shell, 1), (Interlining, 1)],
            ),
            ("2x knippen", vec![(Shell, 2)]),
            ("1x knippen aan de stofvouw", vec![(Shell, 1)]),
            ("knip 2 stof 2 voering", vec![(Shell, 2), (Lining, 2)]),
        ] {
            assert_eq!(cut(words), wanted, "{words}");
        }
        let sided = counts("cut 2 shell, 2 lining (1 left, 1 right)");
        assert!(sided.iter().all(|c| c.sides == Some((1, 1))), "{sided:?}");
        let german = counts("2x zuschneiden (1 links, 1 rechts)");
        assert_eq!(german.first().and_then(|c| c.sides), Some((1, 1)));
    }
}
