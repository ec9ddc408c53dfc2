//! The file of a dated strategy: `date,plot,hours,birds`, each line holding until the
//! next date. A blank plot is the yard only; a date twice opens both plots.

use super::Companions;
use super::bounds;
use super::context::Context;
use super::dates;
use crate::csv_lines::CsvLine;
use crate::diagnose::{ENOUGH_FAULTS, FaultPage, Severity, SourceText};
use crate::nearest::did_you_mean;
use crate::reader::Item;
use jiff::civil::Date;
use sim_engine::gates::OpenHours;
use sim_engine::gates::spec::DatedOpening;
use sim_engine::site::When;
use std::collections::BTreeMap;

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
    let before = page.faults.borrow().len();
    let mut rows: BTreeMap<Date, DatedOpening> = BTreeMap::new();
    let (mut good, mut last, mut in_order) = (true, None, true);
    for (line, cells) in lines {
        if page.faults.borrow().len() >= before + ENOUGH_FAULTS {
            page.error_in_line(line, "the rest of the file was not read", "Correct the faults above first.");
            return None;
        }
        let Some(opening) = row(plots, page, &columns, line, &cells) else {
            good = false;
            continue;
        };
        let date = opening.date;
        if in_order && last.is_some_and(|last| date < last) {
            in_order = false;
            out_of_order(page, line, date);
        }
        last = Some(date);
        good &= merge(&mut rows, opening, page, line);
    }
    if good && rows.is_empty() {
        page.error_in_line(1, "there are no dates", "Add lines such as 2027-03-01,orchard");
    }
    (good && !rows.is_empty()).then(|| rows.into_values().collect())
}

/// The first line that stands below one of a later date.
fn out_of_order(page: FaultPage<'_>, line: usize, date: Date) {
    let message = format!("{date} stands below a later date, because lines hold by their dates and not by their order");
    let remedy = "Put the lines in order, the oldest first; or is the year or month of one mistyped?";
    page.note(Severity::Unusual, page.source.line(line), message, remedy);
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
    let bound = &bounds::LET_THROUGH;
    let fault = match cell.parse::<f64>() {
        Ok(value) if value.fract() == 0.0 && value >= bound.low && value <= bound.high => return Some(Some(value)),
        Ok(0.0) => "birds = 0 opens a gate and lets none through".to_owned(),
        Ok(_) => format!("birds is {cell}, which is out of range"),
        Err(_) => format!("birds is {cell:?}, which is not a number"),
    };
    page.error_in_line(line, fault, "Write a whole number, 1 to 2000; or leave the cell empty for the whole flock.");
    None
}

/// Joins a line to the lines of the same date.
fn merge(rows: &mut BTreeMap<Date, DatedOpening>, next: DatedOpening, page: FaultPage<'_>, line: usize) -> bool {
    let Some(same) = rows.get_mut(&next.date) else {
        rows.insert(next.date, next);
        return true;
    };
    let again = match next.plots.first() {
        Some(plot) => same.plots.contains(plot),
        None => same.plots.is_empty(),
    };
    if again {
        page.error_in_line(
            line,
            format!("{} is there twice with the same plot", next.date),
            "Keep one of the two lines.",
        );
        return false;
    }
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
    same.plots.extend(next.plots);
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
            read("date,plot,hours\n2027-03-20,,\n2027-04-01,orchard,last 4 hours\n2027-04-01,beds,last 4 h\n");
        let openings = openings.unwrap();
        assert_eq!(faults, "");
        assert_eq!(openings[0].plots, Vec::<usize>::new());
        assert_eq!((openings[1].plots.clone(), openings[1].hours), (vec![0, 1], Some(OpenHours::last(4.0))));
    }

    #[test]
    fn a_line_twice_is_a_fault_and_lines_out_of_order_are_doubted() {
        for twice in ["2027-04-01,beds\n2027-04-01,beds\n", "2027-04-01,\n2027-05-01,beds\n2027-04-01,\n"] {
            let (openings, faults) = read(&format!("date,plot\n{twice}"));
            assert!(openings.is_none() && faults.contains("2027-04-01 is there twice with the same plot"), "{faults}");
        }
        let (openings, faults) = read("date,plot\n2027-05-01,beds\n2027-04-01,\n2027-03-01,beds\n");
        assert_eq!(openings.unwrap().len(), 3);
        assert!(faults.starts_with("gates.csv, line 3") && !faults.contains("line 4"), "{faults}");
        assert!(faults.contains("unusual: 2027-04-01 stands below a later date"), "{faults}");
    }

    #[test]
    fn nobody_is_let_through_by_a_number() {
        for birds in ["0", "2.5", "-1", "2001", "nan", "many"] {
            let (openings, faults) = read(&format!("date,plot,birds\n2027-04-01,beds,{birds}\n"));
            assert!(openings.is_none() && faults.contains("leave the cell empty for the whole flock"), "{faults}");
        }
    }

    #[test]
    fn a_list_that_is_all_wrong_is_not_read_to_its_end() {
        let (openings, faults) = read(&format!("date,plot\n{}", "2027-04-01,beds\n".repeat(20_000)));
        assert!(openings.is_none() && faults.matches("twice").count() < 50, "{faults}");
        assert!(faults.contains("the rest of the file was not read"));
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
