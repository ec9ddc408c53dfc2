//! Texts, names and lists as TOML has them.

/// A text in quotes.
pub fn quoted(text: &str) -> String {
    // JSON's strings are TOML's, but for the one character that answers cannot have.
    serde_json::Value::from(text).to_string()
}

/// A name as it stands in a heading.
pub fn key(name: &str) -> String {
    let bare = name.chars().all(|c| c.is_ascii_alphanumeric() || c == '-' || c == '_');
    if bare { name.to_owned() } else { quoted(name) }
}

/// Texts as a list.
pub fn list(texts: &[String]) -> String {
    format!("[{}]", texts.iter().map(|text| quoted(text)).collect::<Vec<_>>().join(", "))
}
