//! The file of a dated strategy: `date,plot,hours,birds`, each line holding until the
//! next date. A blank plot is the yard only; a date twice opens both plots.

use super::Companions;
use super::bounds;
use super::context::Context;
use super::dates;
use crate::csv_lines::CsvLine;
use crate::diagnose::{FaultPage, SourceText};
use crate::nearest::did_you_mean;
use crate::reader::Item;
use sim_engine::gates::OpenHours;
use sim_engine::gates::spec::DatedOpening;
use sim_engine::site::When;

const COLUMNS: [&str; 4] = ["date", "plot", "hours", "birds"];

/// The openings of a file named in the site file, in order of date.
pub(super) fn read(context: &Context<'_>, item: &Item<'_>, companions: &Companions<'_>) -> Option<Vec<DatedOpening>> {
    let name = item.text()?;
    let text = match companions(name) {
        Ok(text) => text,
        Err(error) => {
            item.fault(
                format!("cannot read {name:?}: {error}"),
                "Put the file beside the site file, or correct its name.",
            );
            return None;
        }
    };
    let source = SourceText::new(name, &text);
    openings(&context.plot_names, FaultPage { source: &source, faults: item.page.faults })
}

/// The openings of a text.
pub fn openings(plots: &[String], page: FaultPage<'_>) -> Option<Vec<DatedOpening>> {
    let mut lines = crate::csv_lines::lines(page.source.text()).into_iter();
    let header = lines.next();
    let columns = columns(page, header)?;
    let mut rows: Vec<DatedOpening> = Vec::new();
    let mut good = true;
    for (line, cells) in lines {
        match row(plots, page, &columns, line, &cells) {
            Some(opening) => good &= merge(&mut rows, opening, page, line),
            None => good = false,
        }
    }
    if good && rows.is_empty() {
        page.error_in_line(1, "there are no dates", "Add lines such as 2027-03-01,orchard");
    }
    rows.sort_by_key(|row| row.date);
    (good && !rows.is_empty()).then_some(rows)
}

/// Position of each known column, -, or faults.
fn columns(page: FaultPage<'_>, header: Option<CsvLine>) -> Option<[Option<usize>; 4]> {
    let Some((line, names)) = header else {
        page.error_in_line(1, "the file is empty", "Begin with the line date,plot,hours,birds");
        return None;
    };
    for name in names.iter().filter(|name| !COLUMNS.contains(&name.as_str())) {
        page.error_in_line(line, format!("there is no column {name:?}"), did_you_mean(name, COLUMNS));
    }
    let columns = COLUMNS.map(|wanted| names.iter().position(|name| *name == wanted));
    let known = names.iter().all(|name| COLUMNS.contains(&name.as_str()));
    if known && (columns[0].is_none() || columns[1].is_none()) {
        page.error_in_line(line, "the columns date and plot are needed", "Begin with the line date,plot,hours,birds");
        return None;
    }
    known.then_some(columns)
}

fn row(
    plots: &[String],
    page: FaultPage<'_>,
    columns: &[Option<usize>; 4],
    line: usize,
    cells: &[String],
) -> Option<DatedOpening> {
    let cell = |column: usize| columns[column].and_then(|at| cells.get(at)).map_or("", String::as_str);
    let date = match dates::parse(cell(0)) {
        Ok(When::On(date)) => Some(date),
        Ok(When::Yearly { .. }) => {
            page.error_in_line(
                line,
                format!("{:?} has no year", cell(0)),
                "Write it with its year, for example 2027-03-01.",
            );
            None
        }
        Err((message, remedy)) => {
            page.error_in_line(line, message, remedy);
            None
        }
    };
    let plot = plots.iter().position(|name| name == cell(1));
    if plot.is_none() && !cell(1).is_empty() {
        let remedy = did_you_mean(cell(1), plots.iter().map(String::as_str));
        page.error_in_line(line, format!("there is no plot {:?}", cell(1)), remedy);
        return None;
    }
    let hours = open_hours(page, line, cell(2))?;
    let birds = birds(page, line, cell(3))?;
    Some(DatedOpening { date: date?, plots: plot.into_iter().collect(), hours, birds })
}

/// The hours of a cell: none where it is blank.
fn open_hours(page: FaultPage<'_>, line: usize, cell: &str) -> Option<Option<OpenHours>> {
    if cell.is_empty() {
        return Some(None);
    }
    match crate::open_hours::parse(cell) {
        Ok(hours) => Some(Some(hours)),
        Err(error) => {
            page.error_in_line(line, format!("hours: {}", error.message), error.remedy);
            None
        }
    }
}

/// The birds of a cell: none where it is blank.
fn birds(page: FaultPage<'_>, line: usize, cell: &str) -> Option<Option<f64>> {
    if cell.is_empty() {
        return Some(None);
    }
    let bound = &bounds::BIRDS;
    match cell.parse::<f64>() {
        Ok(value) if value >= bound.low && value <= bound.high => Some(Some(value)),
        Ok(_) => {
            page.error_in_line(line, format!("birds is {cell}, which is out of range"), bound.wording);
            None
        }
        Err(_) => {
            page.error_in_line(line, format!("birds is {cell:?}, which is not a number"), bound.wording);
            None
        }
    }
}

/// Joins a line to the lines of the same date.
fn merge(rows: &mut Vec<DatedOpening>, next: DatedOpening, page: FaultPage<'_>, line: usize) -> bool {
    let Some(same) = rows.iter_mut().find(|row| row.date == next.date) else {
        rows.push(next);
        return true;
    };
    if same.plots.is_empty() || next.plots.is_empty() {
        page.error_in_line(
            line,
            format!("{} says both a plot and the yard only", next.date),
            "Keep one of the two lines.",
        );
        return false;
    }
    if same.hours != next.hours || same.birds != next.birds {
        let message = format!("{} has two lines with different hours or birds", next.date);
        page.error_in_line(line, message, "Write the same hours and birds for plots open on the same day.");
        return false;
    }
    for plot in next.plots {
        if !same.plots.contains(&plot) {
            same.plots.push(plot);
        }
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnose::Faults;
    use std::cell::RefCell;

    fn read(text: &str) -> (Option<Vec<DatedOpening>>, String) {
        let faults = RefCell::new(Vec::new());
        let source = SourceText::new("gates.csv", text);
        let plots = ["orchard".to_owned(), "beds".to_owned()];
        let openings = openings(&plots, FaultPage { source: &source, faults: &faults });
        (openings, Faults::sorted(faults.into_inner()).to_string())
    }

    #[test]
    fn a_date_twice_opens_both_plots_and_blank_is_the_yard() {
        let (openings, faults) =
            read("date,plot,hours\n2027-04-01,orchard,last 4 hours\n2027-04-01,beds,last 4 h\n2027-03-20,,\n");
        let openings = openings.unwrap();
        assert_eq!(faults, "");
        assert_eq!(openings[0].plots, Vec::<usize>::new());
        assert_eq!((openings[1].plots.clone(), openings[1].hours), (vec![0, 1], Some(OpenHours::last(4.0))));
    }

    #[test]
    fn each_bad_line_is_named() {
        let (openings, faults) = read("date,plot\n2027-02-30,orchard\n2027-03-01,orchrad\n");
        let (_, of_hours) = read("date,plot,hours\n2027-04-01,orchard,4\n");
        assert!(of_hours.contains("line 2, column 1: hours: \"4\" says how long, not when"), "{of_hours}");
        assert!(openings.is_none());
        assert!(faults.contains("gates.csv, line 2, column 1: 2027-02-30 does not exist"), "{faults}");
        assert!(faults.contains("gates.csv, line 3, column 1: there is no plot \"orchrad\""), "{faults}");
        assert!(faults.contains("Did you mean \"orchard\"?"), "{faults}");
    }
}
