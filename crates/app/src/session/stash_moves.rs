//! Cloth on its way between the project and the stash file.

/// Cloth that went to or from the stash since the project was saved last.
///
/// The stash is a file of its own, and undo does not reach into it. So cloth that is taken out stays in the file, and cloth
/// that is kept goes into it at once: it is never lost. When the project is saved it is settled: what the project then has on
/// the table leaves the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StashMove {
    /// The offcut of the project: while it is on the table, the file does not have this cloth.
    pub offcut: String,
    /// The same cloth in the file.
    pub in_file: Vec<String>,
}
