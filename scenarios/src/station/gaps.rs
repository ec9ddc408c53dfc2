//! Missing days and cells: temperatures run straight from the day before to the day
//! after, rain counts as none. Only gaps as short as was asked for are filled.

use super::filling::{Filling, MOST_FILLED_D};
use super::rows::StationRow;
use crate::diagnose::FaultPage;
use sim_engine::dates::days_between;
use sim_engine::weather::DayWeather;

/// Longer gaps are not even put in as blank days.
const LONGEST_GAP_D: i32 = 3_700;

/// The days without gaps and how many were filled; `None` with the faults noted.
pub(super) fn fill(page: FaultPage<'_>, rows: Vec<StationRow>, filling: Filling) -> Option<(Vec<DayWeather>, usize)> {
    let rows = with_blank_days(page, rows)?;
    let gaps = gaps(&rows);
    let mut good = true;
    for (first, last) in &gaps {
        good &= short_enough(page, &rows, *first, *last, filling);
    }
    if !good {
        return None;
    }
    let filled = gaps.iter().map(|(first, last)| last - first + 1).sum();
    let tmin = straight(&rows, |row| row.tmin_c);
    let tmax = straight(&rows, |row| row.tmax_c);
    let day = |(position, row): (usize, &StationRow)| {
        let (low, high) = (tmin[position], tmax[position]);
        DayWeather {
            date: row.date,
            tmin_c: low.min(high),
            tmax_c: high.max(low),
            rain_mm: row.rain_mm.unwrap_or(0.0),
            radiation_mj_m2: row.radiation_mj_m2,
            humidity_pct: row.humidity_pct,
            wind_m_s: row.wind_m_s,
        }
    };
    Some((rows.iter().enumerate().map(day).collect(), filled))
}

/// Puts a blank row in for each day that has no line.
fn with_blank_days(page: FaultPage<'_>, rows: Vec<StationRow>) -> Option<Vec<StationRow>> {
    let mut all: Vec<StationRow> = Vec::with_capacity(rows.len());
    for row in rows {
        if let Some(before) = all.last().map(|row| row.date) {
            if days_between(before, row.date) > LONGEST_GAP_D {
                let message = format!("there are no days between {before} and {}", row.date);
                page.error_in_line(row.line, message, "Is the year right?");
                return None;
            }
            let mut next = before.tomorrow().ok()?;
            while next < row.date {
                all.push(StationRow::blank(row.line, next));
                next = next.tomorrow().ok()?;
            }
        }
        all.push(row);
    }
    Some(all)
}

/// First and last position of each run of days that lack something needed.
fn gaps(rows: &[StationRow]) -> Vec<(usize, usize)> {
    let mut gaps: Vec<(usize, usize)> = Vec::new();
    for (position, _) in rows.iter().enumerate().filter(|(_, row)| !row.missing().is_empty()) {
        match gaps.last_mut() {
            Some((_, last)) if *last + 1 == position => *last = position,
            _ => gaps.push((position, position)),
        }
    }
    gaps
}

/// Whether a gap may be filled; else its fault is noted.
fn short_enough(page: FaultPage<'_>, rows: &[StationRow], first: usize, last: usize, filling: Filling) -> bool {
    let days = last - first + 1;
    let inside = first > 0 && last + 1 < rows.len();
    if inside && days <= filling.longest_d() as usize {
        return true;
    }
    let row = &rows[first];
    let missing = row.missing();
    let message = match (days, missing.len()) {
        (1, 1 | 2) => format!("{} is missing on {}", missing.join(" and "), row.date),
        (1, _) => format!("{} is missing", row.date),
        _ => format!("{days} days are missing or incomplete, {} to {}", row.date, rows[last].date),
    };
    let remedy = if !inside {
        "Complete the file: its first and last day cannot be filled.".to_owned()
    } else if days > MOST_FILLED_D as usize {
        format!(
            "Complete the file, or keep what is before the gap or after it: at most {MOST_FILLED_D} days are filled."
        )
    } else {
        format!("Complete the file, or {} to have such gaps filled.", filling.ask(days))
    };
    page.error_in_line(row.line, message, remedy);
    false
}

/// Values with gaps bridged by a straight line.
fn straight(rows: &[StationRow], value: impl Fn(&StationRow) -> Option<f64>) -> Vec<f64> {
    let known: Vec<(usize, f64)> = rows.iter().enumerate().filter_map(|(at, row)| Some((at, value(row)?))).collect();
    let mut after = 0;
    let at = |position: usize| {
        while after < known.len() && known[after].0 < position {
            after += 1;
        }
        let next = known.get(after).or(known.last()).copied().unwrap_or((0, 0.0));
        let before = known.get(after.saturating_sub(1)).copied().unwrap_or(next);
        if next.0 <= before.0 || next.0 == position {
            return next.1;
        }
        before.1 + (next.1 - before.1) * (position - before.0) as f64 / (next.0 - before.0) as f64
    };
    (0..rows.len()).map(at).collect()
}
