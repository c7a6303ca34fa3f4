//! What words on a piece say: its name, how often it is cut and of what, fold, allowance, in the languages of [`tongues`].

use super::super::tongues::{self, holds, is};
use super::counts::{Count, counts, is_cut, role, tokens};
use super::types::OneLine;

/// What some words say.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Said {
    /// A name of a piece, and whether a number before it ("3 of 8") makes it sure.
    pub name: Option<(String, bool)>,
    /// How often cut, of what.
    pub counts: Vec<Count>,
    /// Is it cut on the fold?
    pub on_fold: bool,
    /// Is the allowance drawn in?
    pub line: Option<OneLine>,
    /// The allowance that is named, mm.
    pub width: Option<f64>,
}

/// Keys of words that systems write on pieces ("Quantity: 2") and that are no name.
const KEYS: [&str; 17] = [
    "quantity",
    "size",
    "sample size",
    "style",
    "style name",
    "category",
    "material",
    "annotation",
    "author",
    "units",
    "creation date",
    "creation time",
    "rule table",
    "grade rule table",
    "fabric",
    "version",
    "date",
];

/// A length with its unit: "1.5 cm", "5/8 in", "15mm".
pub(super) fn length(words: &str) -> Option<f64> {
    let all = tokens(words);
    all.windows(2).find_map(|pair| {
        let [figure, unit] = pair else { return None };
        let unit = match unit.as_str() {
            "mm" => 1.0,
            "cm" => 10.0,
            "in" | "inch" | "inches" => 25.4,
            _ => return None,
        };
        let figure = match figure.split_once('/') {
            Some((a, b)) => a.parse::<f64>().ok()? / b.parse::<f64>().ok()?,
            None => figure.parse::<f64>().ok()?,
        };
        (figure > 0.0 && figure.is_finite()).then_some(figure * unit)
    })
}

/// Is the allowance drawn in? "seam allowance included", "no seam allowance", "add seam allowance".
pub(super) fn allowance(words: &str) -> Option<(OneLine, Option<f64>)> {
    let lower = words.to_lowercase();
    if !holds(tongues::ALLOWANCE, &lower) {
        return None;
    }
    let width = length(words);
    if holds(tongues::WITHOUT, &lower) {
        Some((OneLine::Stitch, None))
    } else if holds(tongues::WITH, &lower) {
        Some((OneLine::Cut, width))
    } else {
        None
    }
}

/// Do words say that an edge lies on the fold of the cloth?
pub(super) fn on_fold(words: &str) -> bool {
    let all = tokens(words);
    let is_line = all.iter().any(|w| is(tongues::LINE, w));
    let before = |at: usize, back: usize| {
        at.checked_sub(back)
            .and_then(|i| all.get(i))
            .map_or("", String::as_str)
    };
    let behind_on = |at: usize| {
        is(tongues::ON, before(at, 1))
            || is(tongues::ARTICLES, before(at, 1)) && is(tongues::ON, before(at, 2))
    };
    all.iter().enumerate().any(|(at, w)| {
        is(tongues::FOLD_OF_CLOTH, w) && !is_line
            || is(tongues::FOLD, w) && (behind_on(at) || all.len() <= 2 && !is_line)
            || is(tongues::FOLD_OR_PLEAT, w) && behind_on(at)
    })
}

/// A name of a piece in one line of words: what stands before "cut", without numbers; surely so after "3 of 8".
pub(super) fn name(words: &str) -> Option<(String, bool)> {
    let plain: String = words
        .chars()
        .map(|c| if c.is_whitespace() { ' ' } else { c })
        .collect();
    let mut rest = plain.trim();
    let mut is_sure = false;
    for key in ["piece name:", "piece:", "name:"] {
        if let Some(cut) = rest
            .get(..key.len())
            .filter(|s| s.eq_ignore_ascii_case(key))
        {
            rest = rest.get(cut.len()..).unwrap_or_default().trim();
            is_sure = true;
        }
    }
    if !is_sure && is_key(rest) {
        return None;
    }
    if let Some(after) = after_number_of(rest) {
        (rest, is_sure) = (after, true);
    }
    rest = without_number(rest);
    let lower = rest.to_lowercase();
    // The places in small letters are those in the words only while both are as long.
    if let Some(end) = count_from(&lower).filter(|_| lower.len() == rest.len()) {
        rest = rest.get(..end).unwrap_or_default();
    }
    rest =
        rest.trim_matches(|c: char| c.is_whitespace() || ",;:-\u{2013}\u{2014}()[]\"#".contains(c));
    let is_name = rest.chars().filter(|c| c.is_alphabetic()).count() >= 2 && rest.len() <= 60;
    if !is_name {
        return None;
    }
    let all = tokens(rest);
    let is_of_line = !is_sure
        && (all.iter().any(|w| is(tongues::LINE_WORDS, w))
            || is(tongues::BODY_WORDS, &rest.to_lowercase())
            || all.first().is_some_and(|w| is_cut(w))
            || rest.ends_with('.')
            || all.iter().all(|w| role(w).is_some()));
    (!is_of_line).then(|| (in_case(rest), is_sure))
}

/// Where the words that say how often it is cut begin: "front cut 2", "Vorderteil 2x zuschneiden", "devant: couper 2x".
fn count_from(lower: &str) -> Option<usize> {
    let mut starts: Vec<(usize, &str)> = Vec::new();
    let mut at = 0;
    for word in lower.split(|c: char| !c.is_alphanumeric() && c != '\u{d7}') {
        if !word.is_empty() {
            starts.push((at, word));
        }
        // Every letter that parts words is counted by its own length.
        at += word.len();
        at += lower
            .get(at..)
            .and_then(|rest| rest.chars().next())
            .map_or(0, char::len_utf8);
    }
    let is_number = |w: &str| !w.is_empty() && w.chars().all(|c| c.is_ascii_digit());
    let is_times = |w: &str| {
        let figures = w.trim_end_matches(['x', '\u{d7}']);
        w != figures && is_number(figures)
    };
    let verb = starts.iter().position(|(_, w)| is_cut(w));
    let times = starts.iter().position(|(_, w)| is_times(w));
    let before = verb.map(|v| {
        let word = |i: usize| starts.get(i).map_or("", |s| s.1);
        let behind = is_number(word(v + 1));
        let first = (v.saturating_sub(3)..v).find(|i| !behind && is_number(word(*i)));
        first.filter(|i| *i > 0).unwrap_or(v)
    });
    let first = [before, times.filter(|t| *t > 0)]
        .into_iter()
        .flatten()
        .min()?;
    starts.get(first).map(|s| s.0)
}

/// "3 of 8  Front" gives "Front".
fn after_number_of(words: &str) -> Option<&str> {
    let (first, rest) = words.split_once(' ')?;
    let (of, rest) = rest.trim_start().split_once(' ')?;
    let rest = rest.trim_start();
    let (second, name) = rest.split_once(' ').unwrap_or((rest, ""));
    let is_figure = |w: &str| !w.is_empty() && w.chars().all(|c| c.is_ascii_digit());
    (is_figure(first) && is(tongues::OF, &of.to_lowercase()) && is_figure(second))
        .then(|| name.trim())
}

/// "1. Front", "#2 Back", "A: Sleeve", "Piece 3 Collar" without what numbers them.
fn without_number(words: &str) -> &str {
    let mut rest = words;
    for _ in 0..3 {
        let Some((first, after)) = rest.split_once(' ') else {
            break;
        };
        let bare = first.trim_matches(|c: char| "#.:)(-".contains(c));
        let is_number = bare.chars().all(|c| c.is_ascii_digit());
        let is_letter = bare.len() == 1 && first.len() > 1;
        if is_number || is_letter || is(tongues::PIECE, &bare.to_lowercase()) {
            rest = after.trim_start();
        } else {
            break;
        }
    }
    rest
}

/// Words all in capitals in small letters, the first one large.
fn in_case(words: &str) -> String {
    let has_small = words.chars().any(char::is_lowercase);
    if has_small {
        return words.to_owned();
    }
    let mut chars = words.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_string() + &chars.as_str().to_lowercase()
    })
}

/// May words be a note of the maker's, worth keeping: no figure alone, no word that belongs to a line beside it?
pub(super) fn speaks(words: &str) -> bool {
    let all = tokens(words);
    words.chars().filter(|c| c.is_alphabetic()).count() >= 2
        && !all.iter().any(|w| is(tongues::LINE_WORDS, w))
        && !is(tongues::BODY_WORDS, &words.trim().to_lowercase())
        && !is_key(words)
}

/// Do words begin with a key that systems write ("Size: M")?
pub(super) fn is_key(words: &str) -> bool {
    let key = words.split_once(':').map(|k| k.0.trim().to_lowercase());
    key.is_some_and(|key| KEYS.contains(&key.as_str()))
}

/// Everything that one line of words says.
pub(super) fn said(words: &str) -> Said {
    let told = allowance(words);
    Said {
        name: name(words),
        counts: counts(words),
        on_fold: on_fold(words),
        line: told.map(|t| t.0),
        width: told.and_then(|t| t.1),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;
    #[test]
    fn names_are_told_from_numbers_and_from_what_stands_beside_lines() {
        for (words, wanted) in [
            ("Front", Some("Front")),
            ("BACK BODICE", Some("Back bodice")),
            ("3 of 8  Upper sleeve", Some("Upper sleeve")),
            ("1. Front - cut 2", Some("Front")),
            ("A: Sleeve", Some("Sleeve")),
            ("Piece 3 Collar", Some("Collar")),
            ("POCKET CUT 2", Some("Pocket")),
            ("place on fold", None),
            ("centre front", None),
            ("cut 2", None),
            ("grain", None),
            ("10", None),
            ("Size 12", None),
            ("Piece Name: FRONT", Some("Front")),
            ("Quantity: 2", None),
            ("Style Name: summer", None),
            ("Vorderteil 2x zuschneiden", Some("Vorderteil")),
            (
                "Rückenteil, 1x im Stoffbruch zuschneiden",
                Some("Rückenteil"),
            ),
            ("3 von 8 Ärmel", Some("Ärmel")),
            ("Fadenlauf", None),
            ("Größe 38", None),
            ("Devant: couper 2 fois", Some("Devant")),
            ("Devant droit", Some("Devant droit")),
            ("droit-fil", None),
            ("Manche - couper 2x", Some("Manche")),
            ("Davanti tagliare 2", Some("Davanti")),
            ("Pieza 4 Manga cortar 2", Some("Manga")),
            ("Voorpand 2x knippen", Some("Voorpand")),
            ("stofvouw", None),
            ("Cutaway front", Some("Cutaway front")),
        ] {
            assert_eq!(name(words).map(|n| n.0).as_deref(), wanted, "{words}");
        }
    }

    #[test]
    fn words_on_allowance_tell_which_line_is_drawn() {
        assert_eq!(
            allowance("Seam allowance of 1.5 cm included"),
            Some((OneLine::Cut, Some(15.0)))
        );
        assert_eq!(
            allowance("5/8 in seam allowance is included").unwrap().1,
            Some(15.875)
        );
        assert_eq!(
            allowance("no seam allowance"),
            Some((OneLine::Stitch, None))
        );
        assert_eq!(
            allowance("Seam allowance is not included"),
            Some((OneLine::Stitch, None))
        );
        assert_eq!(allowance("allowance 6.35 mm"), None);
        for words in [
            "Nahtzugabe von 1 cm enthalten",
            "marges de couture de 1 cm comprises",
            "margini di cucitura inclusi (1 cm)",
            "márgenes de costura de 1 cm incluidos",
            "naadtoeslag van 1 cm inbegrepen",
        ] {
            assert_eq!(
                allowance(words),
                Some((OneLine::Cut, Some(10.0))),
                "{words}"
            );
        }
        for words in [
            "ohne Nahtzugabe",
            "Nahtzugabe nicht enthalten",
            "sans marge de couture",
            "marges de couture non comprises",
            "margini di cucitura non compresi",
            "sin margen de costura",
            "zonder naadtoeslag",
        ] {
            assert_eq!(allowance(words), Some((OneLine::Stitch, None)), "{words}");
        }
    }

    #[test]
    fn a_fold_is_told_by_the_words_of_the_trade() {
        for words in [
            "place on fold",
            "FOLD",
            "cut 1 on fold",
            "centre front on the fold",
            "1x im Bruch zuschneiden",
            "Stoffbruch",
            "an den Bruch legen",
            "couper 1 fois au pli",
            "sur la pliure du tissu",
            "tagliare sulla piega",
            "cortar 1 al doblez",
            "aan de stofvouw",
            "tegen de vouw",
        ] {
            assert!(on_fold(words), "{words}");
        }
        for words in [
            "fold line",
            "fold up hem",
            "fold 4 knife pleats",
            "pli creux",
            "línea de doblez",
            "4 plis de 2 cm",
        ] {
            assert!(!on_fold(words), "{words}");
        }
    }
}
