//! What a page carries besides pieces: margins, join marks, rulers, test squares, page map.
