//! `--weather FILE.csv`: a station's days laid on the days of the run.
//!
//! The run begins on the first day of the file that has the month and day on which the
//! site's run starts and enough days after it. Day by day they take the place of the
//! run's own days, so that all that is dated in the site file stays where it is.

use crate::problem::CommandError;
use crate::sites::{Opened, text_of};
use analysis::json::UsedWeather;
use analysis::provenance::input_digest;
use analysis::sweep::weather_given::GivenWeather;
use jiff::civil::Date;
use scenarios::station::{self, Filling};
use sim_engine::dates::days_of_years;
use sim_engine::weather::DayWeather;
use std::path::Path;

/// Days laid on a run.
pub struct ForcedWeather {
    /// The weather, with the dates of the run.
    pub days: Vec<DayWeather>,
    /// Name of the file, without its folder, which differs from machine to machine.
    pub file: String,
    /// First day of the station that is used.
    pub first: Date,
    /// Last day of the station that is used.
    pub last: Date,
    /// Days of the file that were filled in, as the site file allows.
    pub filled: usize,
    /// Digest of the file's bytes.
    digest: String,
}

impl ForcedWeather {
    /// Which days are used, in a sentence.
    pub fn words(&self) -> String {
        self.given().words()
    }

    /// The same as sweeps tell of it.
    pub fn given(&self) -> GivenWeather {
        let [first, last] = [self.first, self.last].map(|day| day.to_string());
        GivenWeather { file: self.file.clone(), first, last, filled: self.filled, digest: self.digest.clone() }
    }

    /// The same as the other documents tell of it.
    pub fn used(&self) -> UsedWeather {
        let GivenWeather { file, first, last, filled, .. } = self.given();
        UsedWeather { file, first, last, filled }
    }
}

/// Reads a station file and lays its days on the run; its text becomes part of the input.
///
/// # Errors
/// The file's faults, or that it has too few days.
pub fn lay(path: &Path, opened: &mut Opened) -> Result<ForcedWeather, CommandError> {
    let text = text_of(path, "Give the path of a CSV file with the station's days.")?;
    let file = path.display().to_string();
    let station::Station { days, filled, .. } =
        station::read_text(&file, &text, Filling::BySite(opened.model.fill_gaps_days))?;
    let digest = input_digest(&[("weather", text.as_bytes())]);
    opened.inputs.push(("weather", text));
    let (start, args) = (opened.model.base.start, opened.model.base.days);
    let from = first_start(&days, start, args).ok_or_else(|| too_few(&file, &days, start, args, opened.model.years))?;
    let mut date = start;
    let laid = days[from..from + args].iter().map(|day| {
        let laid = DayWeather { date, ..day.clone() };
        date = date.tomorrow().unwrap_or(date);
        laid
    });
    let name = path.file_name().map_or(file, |name| name.to_string_lossy().into_owned());
    let (first, last) = (days[from].date, days[from + args - 1].date);
    Ok(ForcedWeather { days: laid.collect(), file: name, first, last, filled, digest })
}

/// Whether a day of the station may be the first: the run's month and day, 29 February on 1 March.
fn may_start(day: Date, start: Date) -> bool {
    let key = |date: Date| if (date.month(), date.day()) == (2, 29) { (3, 1) } else { (date.month(), date.day()) };
    key(day) == key(start)
}

fn first_start(days: &[DayWeather], start: Date, args: usize) -> Option<usize> {
    (0..days.len()).find(|&at| may_start(days[at].date, start) && at + args <= days.len())
}

fn too_few(file: &str, days: &[DayWeather], start: Date, args: usize, years: u32) -> CommandError {
    let first = days.iter().position(|day| may_start(day.date, start));
    let has = first.map_or(0, |first| days.len() - first);
    let fewer = (1..years).rev().find(|years| first_start(days, start, days_of_years(start, *years)).is_some());
    let remedy = match fewer {
        Some(fewer) => format!("Give a longer file, or write years = {fewer} under [run] of the site file."),
        None => "Give a longer file.".to_owned(),
    };
    let (from, to) = days.first().zip(days.last()).map_or((start, start), |(a, b)| (a.date, b.date));
    CommandError::argument(
        file,
        format!(
            "the run needs {args} days from a day {:02}-{:02} on; the file, {from} to {to}, has {has} of them",
            start.month(),
            start.day()
        ),
        remedy,
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn days(from: Date, count: usize) -> Vec<DayWeather> {
        let dates = std::iter::successors(Some(from), |day| day.tomorrow().ok());
        dates.take(count).map(|day| DayWeather::new(day, 5.0, 15.0, 0.0)).collect()
    }

    #[test]
    fn the_first_day_with_enough_days_after_it_starts_the_run() {
        let days = days(date(2012, 4, 1), 800);
        let start = date(2027, 3, 15);
        assert_eq!(first_start(&days, start, 365).map(|at| days[at].date), Some(date(2013, 3, 15)));
        assert_eq!(first_start(&days, start, 600), None);
        assert!(may_start(date(2013, 3, 1), date(2028, 2, 29)));
    }
}
