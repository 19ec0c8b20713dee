//! Text as a DXF string.

/// `text` so that a reader shows exactly it: a backslash would begin an escape, and two percent
/// signs a control code (`%%d` is a degree sign). What is outside ASCII the crate escapes.
pub(super) fn escaped(text: &str) -> String {
    let text = text.replace('\\', "\\U+005C");
    if text.contains("%%") { text.replace('%', "%%%") } else { text }
}

#[cfg(test)]
mod tests {
    use super::escaped;

    #[test]
    fn only_what_a_reader_would_take_for_a_code_is_escaped() {
        assert_eq!(escaped("100 % é"), "100 % é");
        assert_eq!(escaped("a\\U+0041"), "a\\U+005CU+0041");
        assert_eq!(escaped("%%d 5%"), "%%%%%%d 5%%%");
    }
}
