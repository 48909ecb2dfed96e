//! Cells of tables for spreadsheets, which take some texts for formulas: those
//! are written so that they stay texts, and are read back as they were meant.

/// A cell that begins so may be worked out as a formula when a spreadsheet
/// opens the table (the characters that OWASP names under "CSV injection").
const FORMULA: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];
/// Before a cell it says that the rest is text; spreadsheets show it as it is
/// or hide it.
const TEXT: char = '\'';

/// A text as it is written in a cell.
pub fn harmless(text: &str) -> String {
    if is_formula(text) { format!("{TEXT}{text}") } else { text.to_owned() }
}

/// The text that a cell holds.
pub fn meant(cell: &str) -> &str {
    cell.strip_prefix(TEXT).filter(|rest| is_formula(rest)).unwrap_or(cell)
}

/// Whether it begins as a formula does, after any marks that say it is text: a
/// mark of the user's own is marked too, and so kept.
fn is_formula(text: &str) -> bool {
    text.trim_start_matches(TEXT).starts_with(FORMULA)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read_back_and_is_no_formula() {
        for text in ["=1+1", "+44", "-5", "@SUM(A1)", "\tx", "'=1", "''=1", "'tis", "", "a=b", "'"]
        {
            let cell = harmless(text);
            assert!(!cell.starts_with(FORMULA), "{cell}");
            assert_eq!(meant(&cell), text);
        }
        assert_eq!(harmless("lemon bake"), "lemon bake");
        // As a person may write it.
        assert_eq!(meant("=1+1"), "=1+1");
    }
}
