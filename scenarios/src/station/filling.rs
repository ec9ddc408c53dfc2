//! How long a gap may be to be filled, and who says so: that decides what can be done about a longer one.

/// Most days of a gap that are ever filled.
pub const MOST_FILLED_D: u32 = 10;

/// How long a gap may be to be filled, in days, and where that is said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Filling {
    /// In a site file, under `[weather]`.
    BySite(u32),
    /// On the command line.
    ByOption(u32),
}

impl Filling {
    /// The longest gap that is filled, days.
    #[must_use]
    pub fn longest_d(self) -> u32 {
        match self {
            Filling::BySite(days) | Filling::ByOption(days) => days,
        }
    }

    /// How to have gaps of so many days filled.
    pub(super) fn ask(self, days: usize) -> String {
        let days_long = if days == 1 { "1 day".to_owned() } else { format!("{days} days") };
        match self {
            Filling::BySite(_) => format!("write fill_gaps = \"{days_long}\" under [weather] of the site file"),
            Filling::ByOption(_) => format!("add --fill-gaps {days}"),
        }
    }
}
