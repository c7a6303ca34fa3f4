//! The bare form of a DXF: pairs of lines, a group code and its value. A code 0 begins a record.
//!
//! Nothing is copied: a record is a stretch of the file that is looked through each time somebody asks for a value. So a
//! file cannot make the reader hold more than a small multiple of itself.

use petitoile_core::kurbo::Point;

use crate::bring_in::{BringInError, Limits};

/// One record: everything from a code 0 to the next.
#[derive(Debug, Clone, Copy)]
pub(super) struct Record<'a> {
    /// "LINE", "INSERT", "SECTION".
    pub kind: &'a str,
    /// Its other pairs.
    body: &'a str,
    /// Line of the file where it begins.
    pub line: u32,
}

/// Takes a file apart.
pub(super) fn records<'a>(
    text: &'a str,
    limits: &Limits,
    file: &str,
) -> Result<Vec<Record<'a>>, BringInError> {
    let mut records: Vec<Record<'a>> = Vec::new();
    let mut pairs = Pairs {
        rest: text,
        line: 0,
    };
    let mut body = text;
    loop {
        let before = pairs.rest;
        let line = pairs.line + 1;
        let pair = pairs.next();
        let is_end = pair.is_none();
        if is_end || matches!(pair, Some(Ok((0, _)))) {
            // The body of the record before ends here.
            if let Some(last) = records.last_mut() {
                let length = body.len() - before.len();
                last.body = body.get(..length).unwrap_or_default();
            }
        }
        match pair {
            None => return Ok(records),
            Some(Ok((0, kind))) => {
                if limits.elements <= records.len() as u64 {
                    return Err(limits.error(file, limits.elements, "records"));
                }
                records.push(Record {
                    kind: kind.trim(),
                    body: "",
                    line,
                });
                body = pairs.rest;
            }
            Some(Ok(_)) => {}
            Some(Err(line)) => {
                return Err(BringInError::Broken {
                    file: file.to_owned(),
                    why: format!("line {line} should be a group code and is none"),
                });
            }
        }
    }
}

/// Goes through pairs; an error is the line where a group code is none.
#[derive(Clone, Copy)]
struct Pairs<'a> {
    rest: &'a str,
    line: u32,
}

impl<'a> Pairs<'a> {
    fn line(&mut self) -> Option<&'a str> {
        if self.rest.is_empty() {
            return None;
        }
        self.line = self.line.saturating_add(1);
        let (line, rest) = self.rest.split_once('\n').unwrap_or((self.rest, ""));
        self.rest = rest;
        Some(line.strip_suffix('\r').unwrap_or(line))
    }
}

impl<'a> Iterator for Pairs<'a> {
    type Item = Result<(i32, &'a str), u32>;

    fn next(&mut self) -> Option<Self::Item> {
        let code = self.line()?.trim();
        if code.is_empty() && self.rest.trim().is_empty() {
            self.rest = "";
            return None;
        }
        let at = self.line;
        // A file that is cut off between code and value simply ends.
        let value = self.line()?;
        Some(code.parse().map(|code| (code, value)).map_err(|_| at))
    }
}

impl<'a> Record<'a> {
    /// Its pairs.
    pub(super) fn pairs(&self) -> impl Iterator<Item = (i32, &'a str)> + use<'a> {
        Pairs {
            rest: self.body,
            line: 0,
        }
        .filter_map(Result::ok)
    }

    /// The first value of a code.
    pub(super) fn text(&self, code: i32) -> Option<&'a str> {
        self.pairs()
            .find(|(is, _)| *is == code)
            .map(|(_, value)| value.trim())
    }

    /// The first value of a code as a figure; what is no figure is none.
    pub(super) fn figure(&self, code: i32) -> Option<f64> {
        figure(self.text(code)?)
    }

    /// The first value of a code as a whole number.
    pub(super) fn whole(&self, code: i32) -> Option<i64> {
        self.text(code)?.parse().ok()
    }

    /// Is a bit of the flags in a code set?
    pub(super) fn flag(&self, code: i32, bit: i64) -> bool {
        self.whole(code).is_some_and(|flags| flags & bit != 0)
    }

    /// The point of two codes that lie ten apart.
    pub(super) fn point(&self, code: i32) -> Option<Point> {
        Some(Point::new(self.figure(code)?, self.figure(code + 10)?))
    }
}

/// A figure that can be counted with.
pub(super) fn figure(words: &str) -> Option<f64> {
    let figure: f64 = words.trim().parse().ok()?;
    // Beyond this nothing is drawn, and sums of squares would overflow.
    (figure.abs() < 1e100).then_some(figure)
}
