//! A first look at a file before it is read: which format it has, and whether it is sound enough to be read at all.
//!
//! Knows brackets, texts, remarks and words; no project noun.

use super::ProjectFileError;

/// The first two entries of a file.
pub(super) struct Header {
    /// The number after `petitoile`.
    pub format: u32,
    /// The name of the entry that follows.
    pub holds: String,
}

/// Reads the format and what the file holds, nothing behind it.
pub(super) fn header(text: &str) -> Result<Header, ProjectFileError> {
    let mut scan = Scan::new(text);
    scan.expect_sign("(", "an opening bracket")?;
    match scan.next()? {
        Some(Token::Word("petitoile")) => {}
        _ => {
            return Err(
                scan.broken("this is no Petitoile file (it does not begin with its format number)")
            );
        }
    }
    scan.expect_sign(":", "a colon")?;
    let format = match scan.next()? {
        Some(Token::Word(word)) if word.bytes().all(|b| b.is_ascii_digit()) => {
            word.parse().unwrap_or(u32::MAX)
        }
        _ => return Err(scan.broken("the format number is missing")),
    };
    if format == 0 {
        return Err(scan.broken("there is no format 0"));
    }
    if format > super::FORMAT {
        // A newer format may go on in any way; do not look.
        return Ok(Header {
            format,
            holds: String::new(),
        });
    }
    scan.expect_sign(",", "a comma")?;
    match scan.next()? {
        Some(Token::Word(word)) => Ok(Header {
            format,
            holds: word.to_owned(),
        }),
        _ => Err(scan.broken("the file does not say what it holds")),
    }
}

/// Is every bracket closed, no more than `deepest` open at once, and every figure finite?
pub(super) fn soundness(text: &str, deepest: usize) -> Result<(), ProjectFileError> {
    let mut scan = Scan::new(text);
    let mut open: Vec<&str> = Vec::new();
    while let Some(token) = scan.next()? {
        match token {
            Token::Sign("(") => open.push(")"),
            Token::Sign("[") => open.push("]"),
            Token::Sign("{") => open.push("}"),
            Token::Sign(sign @ (")" | "]" | "}")) => {
                if open.pop() != Some(sign) {
                    return Err(scan.broken(&format!("this {sign} closes nothing")));
                }
            }
            Token::Word(word) if !is_finite(word) => {
                return Err(scan.broken(&format!("{word} is not a size")));
            }
            Token::Sign(_) | Token::Word(_) | Token::Text => {}
        }
        if deepest < open.len() {
            return Err(scan.broken("too many brackets within brackets"));
        }
    }
    match open.pop() {
        None => Ok(()),
        Some(sign) => {
            scan.start = scan.at;
            Err(scan.broken(&format!("the file ends too early, a {sign} is missing")))
        }
    }
}

/// Not "inf", not "NaN", not a figure that is too large to be held.
fn is_finite(word: &str) -> bool {
    let bare = word
        .trim_start_matches(['+', '-'])
        .trim_end_matches("f64")
        .trim_end_matches("f32");
    if bare == "inf" || bare == "NaN" {
        return false;
    }
    if !bare.starts_with(|c: char| c.is_ascii_digit() || c == '.') {
        return true;
    }
    bare.replace('_', "")
        .parse::<f64>()
        .map_or(true, f64::is_finite)
}

/// One thing in the file.
enum Token<'a> {
    /// A bracket, colon, comma or other sign.
    Sign(&'a str),
    /// A name or a figure.
    Word(&'a str),
    /// Anything in quotes.
    Text,
}

/// Walks over a file, thing by thing.
struct Scan<'a> {
    text: &'a str,
    at: usize,
    /// Where the last thing began.
    start: usize,
}

impl<'a> Scan<'a> {
    fn new(text: &'a str) -> Self {
        Self {
            text,
            at: 0,
            start: 0,
        }
    }

    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn next(&mut self) -> Result<Option<Token<'a>>, ProjectFileError> {
        self.skip_remarks()?;
        self.start = self.at;
        let rest = self.rest();
        let Some(first) = rest.chars().next() else {
            return Ok(None);
        };
        if first == '"' || first == '\'' {
            self.skip_quoted(first)?;
            return Ok(Some(Token::Text));
        }
        if first == 'r' && self.skip_raw()? {
            return Ok(Some(Token::Text));
        }
        let is_word = |c: char| c.is_alphanumeric() || matches!(c, '_' | '.' | '+' | '-');
        let length = rest
            .find(|c| !is_word(c))
            .unwrap_or(rest.len())
            .max(first.len_utf8());
        self.at += length;
        let thing = rest.get(..length).unwrap_or_default();
        Ok(Some(if is_word(first) {
            Token::Word(thing)
        } else {
            Token::Sign(thing)
        }))
    }

    /// Blanks, `// to the end of the line`, `/* to the end, these may nest */`.
    fn skip_remarks(&mut self) -> Result<(), ProjectFileError> {
        loop {
            let rest = self.rest();
            let blank = rest.len() - rest.trim_start().len();
            let rest = rest.get(blank..).unwrap_or_default();
            self.at += blank;
            if rest.starts_with("//") {
                self.at += rest.find('\n').unwrap_or(rest.len());
            } else if rest.starts_with("/*") {
                self.start = self.at;
                self.skip_nested_remark()?;
            } else {
                return Ok(());
            }
        }
    }

    fn skip_nested_remark(&mut self) -> Result<(), ProjectFileError> {
        let mut level = 0_usize;
        loop {
            let rest = self.rest();
            let Some(next) = rest.find(['/', '*']) else {
                return Err(self.broken("a remark has no end"));
            };
            let found = rest.get(next..).unwrap_or_default();
            if found.starts_with("/*") {
                level += 1;
                self.at += next + 2;
            } else if found.starts_with("*/") {
                level -= 1;
                self.at += next + 2;
                if level == 0 {
                    return Ok(());
                }
            } else {
                self.at += next + 1;
            }
        }
    }

    fn skip_quoted(&mut self, quote: char) -> Result<(), ProjectFileError> {
        self.at += 1;
        loop {
            let rest = self.rest();
            let Some(next) = rest.find([quote, '\\']) else {
                return Err(self.broken("a text has no end"));
            };
            let escaped = rest
                .get(next..)
                .is_some_and(|found| found.starts_with('\\'));
            self.at += next + 1;
            if !escaped {
                return Ok(());
            }
            self.at += self.rest().chars().next().map_or(0, char::len_utf8);
        }
    }

    /// `r#"..."#`, if that is what stands here.
    fn skip_raw(&mut self) -> Result<bool, ProjectFileError> {
        let after = self.rest().get(1..).unwrap_or_default();
        let hashes = after.len() - after.trim_start_matches('#').len();
        let Some(body) = after.get(hashes..).and_then(|b| b.strip_prefix('"')) else {
            return Ok(false);
        };
        let end = format!("\"{}", "#".repeat(hashes));
        let Some(length) = body.find(&end) else {
            return Err(self.broken("a text has no end"));
        };
        self.at += 1 + hashes + 1 + length + end.len();
        Ok(true)
    }

    fn expect_sign(&mut self, sign: &str, name: &str) -> Result<(), ProjectFileError> {
        match self.next()? {
            Some(Token::Sign(found)) if found == sign => Ok(()),
            _ => Err(self.broken(&format!("{name} is missing"))),
        }
    }

    /// The complaint, at the place where the last thing began.
    fn broken(&self, what: &str) -> ProjectFileError {
        let before = self.text.get(..self.start).unwrap_or(self.text);
        let line = 1 + before.matches('\n').count();
        let column = 1 + before
            .rsplit('\n')
            .next()
            .unwrap_or_default()
            .chars()
            .count();
        ProjectFileError::Broken {
            line,
            column,
            what: what.to_owned(),
        }
    }
}
