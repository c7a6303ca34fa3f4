//! What words on a piece say: its name, how often it is cut and of what, fold, allowance, size. English.

use super::counts::{Count, counts, role, tokens};
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

/// Words that stand beside lines and are no name of a piece.
const LINE_WORDS: [&str; 37] = [
    "grain",
    "grainline",
    "fold",
    "allowance",
    "allowances",
    "test",
    "scale",
    "print",
    "printed",
    "page",
    "notch",
    "size",
    "sizes",
    "line",
    "lengthen",
    "shorten",
    "here",
    "cm",
    "mm",
    "inch",
    "inches",
    "seam",
    "stitch",
    "sew",
    "gather",
    "ease",
    "place",
    "placement",
    "match",
    "copyright",
    "cloth",
    "fabric",
    "pleat",
    "tuck",
    "leave",
    "slit",
    "level",
];

/// Words of a single line that names a line of the body, not a piece.
const BODY_WORDS: [&str; 20] = [
    "cf",
    "cb",
    "centre",
    "center",
    "waist",
    "waistline",
    "bust",
    "hip",
    "hipline",
    "hem",
    "side",
    "front edge",
    "centre front",
    "center front",
    "centre back",
    "center back",
    "bust point",
    "apex",
    "shoulder",
    "knee",
];

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
    if !lower.contains("allowance") {
        return None;
    }
    let says = |list: &[&str]| list.iter().any(|w| lower.contains(w));
    let without = says(&[
        "no seam",
        "no allowance",
        "without",
        "not included",
        "not include",
        "add ",
        "excluding",
        "excluded",
    ]);
    let with = says(&["included", "includes", "including", "with seam"]);
    let width = length(words);
    if without {
        Some((OneLine::Stitch, None))
    } else if with {
        Some((OneLine::Cut, width))
    } else {
        None
    }
}

/// Do words say that an edge lies on the fold of the cloth?
pub(super) fn on_fold(words: &str) -> bool {
    let all = tokens(words);
    let fold = all.iter().position(|w| w == "fold");
    let is_line = all.iter().any(|w| w == "line" || w == "up");
    fold.is_some_and(|at| {
        let before = |back: usize| {
            at.checked_sub(back)
                .and_then(|i| all.get(i))
                .map(String::as_str)
        };
        before(1) == Some("on")
            || before(1) == Some("the") && before(2) == Some("on")
            || all.len() <= 2 && !is_line
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
    let key = rest.split_once(':').map(|k| k.0.trim().to_lowercase());
    if !is_sure && key.is_some_and(|k| KEYS.contains(&k.as_str())) {
        return None;
    }
    if let Some(after) = after_number_of(rest) {
        (rest, is_sure) = (after, true);
    }
    rest = without_number(rest);
    let lower = rest.to_lowercase();
    let ends = [" cut ", " - cut", ": cut", ", cut", "(cut"]
        .iter()
        .filter_map(|w| lower.find(w))
        .chain((lower.starts_with("cut ")).then_some(0))
        .min();
    // The places in small letters are those in the words only while both are as long.
    if let Some(end) = ends.filter(|_| lower.len() == rest.len()) {
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
        && (all.iter().any(|w| LINE_WORDS.contains(&w.as_str()))
            || BODY_WORDS.contains(&rest.to_lowercase().as_str())
            || all.first().is_some_and(|w| w == "cut")
            || rest.ends_with('.')
            || all.iter().all(|w| role(w).is_some()));
    (!is_of_line).then(|| (in_case(rest), is_sure))
}

/// "3 of 8  Front" gives "Front".
fn after_number_of(words: &str) -> Option<&str> {
    let (first, rest) = words.split_once(' ')?;
    let (of, rest) = rest.trim_start().split_once(' ')?;
    let rest = rest.trim_start();
    let (second, name) = rest.split_once(' ').unwrap_or((rest, ""));
    let is_figure = |w: &str| !w.is_empty() && w.chars().all(|c| c.is_ascii_digit());
    (is_figure(first) && of.eq_ignore_ascii_case("of") && is_figure(second)).then(|| name.trim())
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
        if is_number
            || is_letter
            || ["piece", "no", "pattern"].contains(&bare.to_lowercase().as_str())
        {
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
    }

    #[test]
    fn a_fold_is_told_by_the_words_of_the_trade() {
        for words in [
            "place on fold",
            "FOLD",
            "cut 1 on fold",
            "centre front on the fold",
        ] {
            assert!(on_fold(words), "{words}");
        }
        for words in ["fold line", "fold up hem", "fold 4 knife pleats"] {
            assert!(!on_fold(words), "{words}");
        }
    }
}
