//! Safe files: written beside, synced, renamed; the version before is kept; unsaved work is recovered.
