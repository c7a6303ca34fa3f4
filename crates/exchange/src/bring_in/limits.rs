//! How much of a foreign file is read at most. All limits are our own, far above any garment that was seen; no source.

use super::BringInError;

/// How much of a foreign file is read at most.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Limits {
    /// Size of the file, bytes. Default: 64 MB.
    pub bytes: u64,
    /// Drawn elements over all pages, every `use`, form and INSERT counted each time it is drawn; a path counts once and
    /// once more for each of its segments. In SVG an element counts ten times: that is what reading it costs in memory;
    /// in DXF four times, an insertion six times.
    /// Default: 2 million.
    pub elements: u64,
    /// Groups, forms or blocks inside of one another. Default: 48.
    pub nesting: u64,
    /// Pages. Default: 400.
    pub pages: u64,
    /// Letters of text over all pages. In SVG a letter counts ten times. Default: 1 million.
    pub letters: u64,
    /// How far from the origin anything may lie, mm; what lies further out is left out and told. Default: 1 million.
    pub reach: u64,
    /// Pixels of a picture. Default: 100 million.
    pub pixels: u64,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            bytes: 64 << 20,
            elements: 2_000_000,
            nesting: 48,
            pages: 400,
            letters: 1_000_000,
            reach: 1_000_000,
            pixels: 100_000_000,
        }
    }
}

impl Limits {
    /// Lets a file in by its size.
    ///
    /// # Errors
    /// [`BringInError::Limit`] when it is larger, [`BringInError::Empty`] when there is nothing in it.
    pub fn admit(&self, bytes: &[u8], file: &str) -> Result<(), BringInError> {
        if bytes.is_empty() {
            return Err(BringInError::Empty {
                file: file.to_owned(),
            });
        }
        if self.bytes < bytes.len() as u64 {
            return Err(self.error(file, self.bytes, "bytes"));
        }
        Ok(())
    }

    /// The error for having gone beyond a limit.
    pub fn error(&self, file: &str, limit: u64, of: &str) -> BringInError {
        BringInError::Limit {
            file: file.to_owned(),
            limit,
            of: of.to_owned(),
        }
    }
}
