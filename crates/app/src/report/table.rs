//! Columns for a terminal: the first to the left, the others to the right.

/// Rows of words under a head.
#[derive(Debug, Clone, PartialEq)]
pub struct Table<const N: usize> {
    rows: Vec<[String; N]>,
}

impl<const N: usize> Table<N> {
    /// An empty table with these words over its columns.
    pub fn new(head: [&str; N]) -> Self {
        Self {
            rows: vec![head.map(str::to_owned)],
        }
    }

    /// Adds a row.
    pub fn row(&mut self, row: [String; N]) {
        self.rows.push(row);
    }

    /// The table, two spaces before every column, each row on a line of its own. The first and the last column start
    /// at the left, figures between them end at the right.
    pub fn text(&self) -> String {
        let mut widths = [0; N];
        for row in &self.rows {
            for (width, cell) in widths.iter_mut().zip(row) {
                *width = cell.chars().count().max(*width);
            }
        }
        let mut text = String::new();
        for row in &self.rows {
            let cells = row
                .iter()
                .zip(widths)
                .enumerate()
                .map(|(column, (cell, width))| {
                    if column == 0 || column + 1 == N {
                        format!("  {cell:<width$}")
                    } else {
                        format!("  {cell:>width$}")
                    }
                });
            let line: String = cells.collect();
            text.push_str(line.trim_end());
            text.push('\n');
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::Table;

    #[test]
    fn figures_end_under_each_other() {
        let mut table = Table::new(["edge", "mm", ""]);
        table.row(["side".to_owned(), "7.5".to_owned(), "hem".to_owned()]);
        table.row(["neckline".to_owned(), "112".to_owned(), String::new()]);
        assert_eq!(
            table.text(),
            "  edge       mm\n  side      7.5  hem\n  neckline  112\n"
        );
    }
}
