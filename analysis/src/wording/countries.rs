//! Whose waiting rule counts, where a site names several countries.

use super::text::list;
use scenarios::SiteModel;

/// ", the longest of Canada and United Kingdom", behind the country whose rule counts; empty where one is named, or of none
/// the days are known.
#[must_use]
pub fn longest_of_countries(model: &SiteModel) -> String {
    let counts = [true, false].iter().any(|soil| model.waiting_rule(*soil).is_some());
    let named: Vec<&str> = model.waiting_rules.iter().map(|rule| rule.country.as_str()).collect();
    if counts && named.len() > 1 { format!(", the longest of {}", list(&named)) } else { String::new() }
}
