//! The style of every table in plain text.

use comfy_table::{
    CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, Table, TableStyle, Width,
};
/// Widest line [columns].
pub(crate) const WIDTH: usize = 100;
/// Blank columns between two columns of a table.
pub(crate) const GAP: usize = 2;
pub(crate) fn empty_table(header: &[&str]) -> Table {
    let rule = LineStyle::none().fill('─').junction('─');
    let mut table = Table::new();
    table
        .load_style(TableStyle::new().header_separator(rule))
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(WIDTH as u16)
        .set_header(header.iter().copied());
    table
}

/// Aligns the columns in `text_columns` to the left and all others to the right.
///
/// Only the first column, of names, is wrapped if the lines would be too long.
pub(crate) fn align_columns(table: &mut Table, text_columns: &[usize]) {
    let last = table.column_count().saturating_sub(1);
    // The line between two columns is blank and takes one column itself.
    for (index, column) in table.column_iter_mut().enumerate() {
        column.set_padding((0, if index == last { 0 } else { GAP as u16 - 1 }));
        if index > 0 {
            column.set_constraint(ColumnConstraint::ContentWidth);
        }
        if !text_columns.contains(&index) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
}

/// Lets a column be wrapped if the lines would be too long, but not below `min_width` [columns] unless its content is
/// narrower.
pub(crate) fn wrap_column(table: &mut Table, index: usize, min_width: usize) {
    let content_width = table.column_max_content_widths()[index];
    if let Some(column) = table.column_mut(index) {
        let min_width = content_width.min(min_width as u16) + column.padding_width();
        column.set_constraint(ColumnConstraint::LowerBoundary(Width::Fixed(min_width)));
    }
}

/// The lines of a table without blanks at their ends.
pub(crate) fn trimmed_lines(table: &Table) -> String {
    let lines: Vec<_> = table.lines().map(|line| line.trim_end().to_owned()).collect();
    lines.join("\n")
}
