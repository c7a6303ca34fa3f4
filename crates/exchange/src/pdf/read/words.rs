//! Letters one by one become lines of text.

use petitoile_core::kurbo::{Point, Vec2};

use crate::bring_in::FoundText;

/// A letter where it stands, mm.
pub(super) struct Letter {
    /// What it says.
    pub words: String,
    /// Left end of its base line.
    pub at: Point,
    /// Right end.
    pub end: Point,
    /// Along the base line, length 1.
    pub along: Vec2,
    /// Its em.
    pub size: f64,
}

/// Texts of a page while their letters come in.
#[derive(Default)]
pub(super) struct Words {
    texts: Vec<FoundText>,
    /// Where the last text ends, and which way it runs.
    end: Option<(Point, Vec2)>,
}

/// Shares of the em. Common practice, no source: a blank is about 0.25 to 0.3 em wide, columns stand farther apart.
const BLANK: f64 = 0.15;
const APART: f64 = 1.0;
const BACK: f64 = -0.5;
const BESIDE: f64 = 0.2;

impl Words {
    /// Takes a letter: it goes on with the last text or begins another.
    pub fn push(&mut self, letter: Letter, new: impl FnOnce() -> FoundText) {
        if let (Some(last), Some((end, along))) = (self.texts.last_mut(), self.end) {
            let step = letter.at - end;
            let (ahead, beside) = (step.dot(along), step.cross(along));
            let size = last.size;
            let goes_on = (letter.size - size).abs() < 0.02 * size
                && letter.along.dot(along) > 0.9998
                && beside.abs() < BESIDE * size
                && (BACK * size..APART * size).contains(&ahead);
            if goes_on {
                let blank = |c: Option<char>| c.is_some_and(char::is_whitespace);
                if ahead > BLANK * size
                    && !blank(last.words.chars().last())
                    && !blank(letter.words.chars().next())
                {
                    last.words.push(' ');
                }
                last.words.push_str(&letter.words);
                self.end = Some((letter.end, along));
                return;
            }
        }
        self.trim();
        let text = new();
        if text.words.trim().is_empty() {
            self.end = None;
            return;
        }
        self.end = Some((letter.end, letter.along));
        self.texts.push(text);
    }

    /// Something else was painted in between, or the layer changed: the next letter begins a text.
    pub fn cut(&mut self) {
        self.end = None;
    }

    fn trim(&mut self) {
        if let Some(last) = self.texts.last_mut() {
            last.words.truncate(last.words.trim_end().len());
        }
    }

    /// The texts.
    pub fn done(mut self) -> Vec<FoundText> {
        self.trim();
        self.texts
    }
}
