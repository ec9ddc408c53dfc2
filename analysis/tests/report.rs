//! The report: whole, escaped, without network or script, and saying what it must.

#![allow(clippy::unwrap_used)]

mod common;

use analysis::charts::Chart;
use analysis::draw_sampler::DrawSampler;
use analysis::harvest_dates::harvest_dates;
use analysis::report::{CompareView, Report, SeasonView, compare_report, season_report};
use analysis::season::{likely, simulate};
use analysis::units::Units;
use analysis::wording::plain_date;
use common::{compared, from, site};
use scenarios::SiteModel;
use scenarios::money::{self, AimUnit};
use sim_engine::dates::date_of;
use sim_engine::measures::Measure;

const NAMES: [&str; 3] = ["what-we-do-now", "all-open", "by-eye"];

fn page(edit: impl FnOnce(&mut SiteModel), draws: usize) -> String {
    report(edit, draws, Units::Metric).html
}

fn report(edit: impl FnOnce(&mut SiteModel), draws: usize, units: Units) -> Report {
    let (model, library) = site(edit);
    let comparison = compared(&model, &NAMES, draws);
    let likely = likely(&model, comparison.plan.seed, None, comparison.plan.which[comparison.leading()]).unwrap();
    let notes = [];
    compare_report(&CompareView {
        model: &model,
        library: &library,
        comparison: &comparison,
        from: &from(),
        likely: &likely,
        notes: &notes,
        units,
    })
}

fn season(units: Units) -> Report {
    let (model, library) = site(|_| ());
    let draw = DrawSampler { seed: 7 }.draw(&model, 0);
    let season = simulate(&model, &draw, 1, None).unwrap();
    let from = from();
    season_report(&SeasonView {
        model: &model,
        library: &library,
        draw: &draw,
        which: 1,
        season: &season,
        from: &from,
        units,
    })
}

/// Every element that is opened is closed, in order; elements without content aside.
fn well_formed(page: &str) {
    let body = page.split_once("</style>").unwrap().1;
    let mut open: Vec<String> = vec!["html".into(), "head".into()];
    for piece in body.split('<').skip(1) {
        let tag = piece.split_once('>').expect("a tag ends").0;
        let name: String = tag.trim_start_matches('/').chars().take_while(|c| c.is_ascii_alphanumeric()).collect();
        assert!(!name.is_empty(), "a bare < in {piece:.60}");
        if tag.starts_with('/') {
            assert_eq!(open.pop().as_deref(), Some(name.as_str()), "at {piece:.60}");
        } else if !tag.ends_with('/') && !["br", "meta"].contains(&name.as_str()) {
            open.push(name);
        }
    }
    assert!(open.is_empty(), "{open:?}");
}

#[test]
fn the_report_is_one_whole_file_without_network_or_script() {
    let page = page(|_| (), 6);
    well_formed(&page);
    for no in ["http", "<script", "<link", "<img", "url(", "@import", "undominated", "settled", "NaN", "inf "] {
        assert!(!page.contains(no), "{no}");
    }
    assert!(page.starts_with("<!DOCTYPE html>"));
    assert!(page.contains("@page") && page.contains("viewport"));
}

#[test]
fn names_are_escaped_wherever_they_stand() {
    let page = page(|model| model.base.plots[4].name = "plum <i>&".to_owned(), 3);
    well_formed(&page);
    assert!(!page.contains("<i>") && !page.contains("<b>"));
    assert!(page.contains("plum &lt;i&gt;&amp;") && page.contains("Hens &lt;b&gt;&amp;&quot; sward"));
}

#[test]
fn the_report_says_what_it_must() {
    let page = page(|_| (), 6);
    for name in NAMES {
        assert!(page.matches(name).count() > 4, "{name}");
    }
    for must in [
        "How sure",
        "The next eight weeks, from ",
        "What to watch",
        "counts as",
        "held in ",
        "of 10",
        "Only 6 possible years",
        "What was taken for granted",
        "Salmonella",
        "animal-health authority",
        "120 days",
        "7 CFR 205.203(c)",
        "unknown, not harmless",
        "not a promise",
        "ask a vet",
        "Digest of the inputs",
        "hensward 0.",
        "<title>",
    ] {
        assert!(page.contains(must), "{must}");
    }
    // Never promised: neither the page nor its charts call anything safe.
    let lower = page.to_lowercase();
    let words = lower.split(|c: char| !c.is_alphabetic());
    assert!(words.into_iter().all(|word| word != "safe" && word != "safely"));
}

#[test]
fn the_same_inputs_give_the_same_page() {
    assert_eq!(page(|_| (), 3), page(|_| (), 3));
}

#[test]
fn a_waiting_rule_of_ones_own_is_told_with_its_reason() {
    let (mut model, library) = site(|_| ());
    model.base.rules.waiting_days_touching = 60;
    model.waiting_rule_reason = Some("composted & turned".to_owned());
    let cautions = analysis::cautions::of(&model, &library, Units::Metric);
    let manure = &cautions[0].text;
    assert!(
        manure.contains("60 days") && manure.contains("composted & turned") && manure.contains("120 and 90"),
        "{manure}"
    );
}

/// Told where birds may go under fruit, by hemisphere and bird; nowhere else.
#[test]
fn helpers_lost_are_told_under_fruit() {
    let told = |change: &dyn Fn(&mut scenarios::SiteModel)| {
        let (mut model, library) = site(|_| ());
        change(&mut model);
        let cautions = analysis::cautions::of(&model, &library, Units::Metric);
        cautions.into_iter().find(|caution| caution.about == "Helpers under fruit").map(|caution| caution.text)
    };
    let north = told(&|_| ()).unwrap();
    assert!(
        north.contains("harvestmen") && north.contains("from November to May") && !north.contains("ducks"),
        "{north}"
    );
    assert!(told(&|model| model.base.place.latitude_deg = -35.0).unwrap().contains("from May to November"));
    assert!(told(&|model| model.base.birds[0].name = "duck".to_owned()).unwrap().contains("With ducks"));
    assert_eq!(told(&|model| model.base.plots.iter_mut().for_each(|plot| plot.canopies.clear())), None);
}

#[test]
fn a_clear_winner_leads_the_page() {
    let page = page(|model| model.limits.all.clear(), 40);
    let head = page.split_once("</header>").unwrap().0;
    assert!(
        head.contains("Best strategy") || head.contains("too close to call") || head.contains("Nothing here is better"),
        "{head}"
    );
    assert!(page.contains("sets no limits"));
}

#[test]
fn a_season_has_its_page() {
    let Report { html: page, charts } = season(Units::Metric);
    well_formed(&page);
    assert!(page.contains("Every move, and why") && !page.contains("http") && !page.contains("NaN"));
    links_lead_somewhere(&page);
    pictures_have_words(&page, &charts, |_| false);
}

/// The sheet of a season has the gates' own dates and days, and each harvest with the birds' last day before it; then
/// comes the year, and the rest is folded.
#[test]
fn a_season_opens_with_its_gates_and_harvests() {
    let (model, _) = site(|_| ());
    let season_of = simulate(&model, &DrawSampler { seed: 7 }.draw(&model, 0), 1, None).unwrap();
    let page = season(Units::Metric).html;
    let place = |what: &str| page.find(what).unwrap_or_else(|| panic!("{what}"));
    let order =
        ["</header>", "id=\"gates\"", "id=\"picked\"", "id=\"watch\"", "id=\"balance\"", "id=\"year\"", "<details"];
    assert!(order.windows(2).all(|pair| place(pair[0]) < place(pair[1])) && !page.contains("<details open"));
    let rows = |from: &str, to: &str| page[place(from)..place(to)].matches("<tr").count() - 1;
    let is_open = |day: usize, plot: usize| season_of.diary.state(day, plot).is_some_and(|state| state.open);
    let plots = 0..model.base.plots.len();
    let ever: Vec<usize> = plots.filter(|&plot| (0..model.base.days).any(|day| is_open(day, plot))).collect();
    assert!(!ever.is_empty() && rows("id=\"gates\"", "id=\"picked\"") == ever.len());
    for plot in ever {
        let days: Vec<usize> = (0..model.base.days).filter(|&day| is_open(day, plot)).collect();
        let date = |day: usize| plain_date(date_of(model.base.start, day));
        let row = format!(
            "{}</td><td>{}</td><td>{}</td><td class=\"number\">{}<",
            model.base.plots[plot].name,
            date(days[0]),
            date(days[days.len() - 1]),
            days.len()
        );
        assert!(page.contains(&row), "{row}");
    }
    let harvests = harvest_dates(&model);
    assert!(!harvests.is_empty() && rows("id=\"picked\"", "id=\"watch\"") == harvests.len());
    for harvest in harvests.iter().take(3) {
        let last = match harvest.shut_from_start {
            true => "none from the start".to_owned(),
            false => plain_date(harvest.last_bird_day),
        };
        let dates = format!("{last}</td><td>{}", plain_date(harvest.first_day));
        assert!(page[..place("id=\"watch\"")].contains(&dates), "{dates}");
    }
}

/// Every link of the contents has its target, and nothing has two.
fn links_lead_somewhere(page: &str) {
    let mut links = 0;
    for link in page.split("href=\"#").skip(1) {
        let id = link.split_once('"').unwrap().0;
        assert_eq!(page.matches(&format!("id=\"{id}\"")).count(), 1, "{id}");
        links += 1;
    }
    assert!(links > 10, "{links}");
}

/// Every picture of the page says in words what it shows, and is among the charts.
fn pictures_have_words(page: &str, charts: &[(String, Chart)], only_a_file: fn(&str) -> bool) {
    let count = |what: &str| page.matches(what).count();
    let shown = charts.iter().filter(|(name, _)| !only_a_file(name)).count();
    assert!(count("<figure>") == shown && count("role=\"img\"") == shown && count("<desc>") == shown);
    assert!(charts.iter().all(|(_, chart)| chart.alt.len() > 60 && !chart.alt.contains("NaN")));
    let mut names: Vec<&str> = charts.iter().map(|(name, _)| name.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), charts.len());
}

/// Nitrogen plot by plot is drawn for those who ask: beside the page of a comparison, not on it.
fn only_a_file(name: &str) -> bool {
    name.starts_with("plot-") && name.ends_with("-nitrogen")
}

#[test]
fn every_plot_has_its_part_with_pictures_and_ranges() {
    let Report { html, charts } = report(|_| (), 12, Units::Metric);
    links_lead_somewhere(&html);
    pictures_have_words(&html, &charts, only_a_file);
    let (model, _) = site(|_| ());
    let plots = model.base.plots.len();
    assert_eq!(html.matches("<article").count(), plots);
    for plot in 1..=plots {
        for name in [format!("plot-{plot}"), format!("plot-{plot}-nitrogen")] {
            assert!(charts.iter().any(|(of, _)| *of == name), "{name}");
        }
    }
    for must in [
        "Least cover",
        "Shortest rest",
        "Weed seed bank",
        "Nitrogen leached",
        "Worm eggs",
        "Soil to shovel back",
        "Keeper's work",
        "Harvest kept",
        "Fewer pests risen",
        "Leftovers of a crop gone",
    ] {
        assert!(html.contains(must), "{must}");
    }
    // A median with the range nine in ten possible years fall in.
    let table = html.split("class=\"stack plot-figures\"").nth(1).unwrap();
    assert!(table.contains("</strong> <small>("), "{table:.600}");
}

/// What is folded away comes after the sheet and the year, which are not, and links lead into it.
#[test]
fn the_sheet_comes_first_and_the_rest_is_folded() {
    let page = page(|_| (), 6);
    let place = |what: &str| page.find(what).unwrap_or_else(|| panic!("{what}"));
    let order = ["</header>", "id=\"weeks\"", "class=\"contents\"", "id=\"year\"", "<details", "id=\"cautions\""];
    assert!(order.windows(2).all(|pair| place(pair[0]) < place(pair[1])));
    assert!(!page.contains("<details open"));
    let unfolded = &page[..place("<details")];
    for must in ["raw manure", "Salmonella", "ask a vet", "gate open", "lays "] {
        assert!(unfolded.contains(must), "{must}");
    }
}

/// The parts of what a strategy is worth add up to what it is worth.
#[test]
fn the_balance_adds_up() {
    adds_up(&page(|_| (), 6));
    adds_up(&season(Units::Metric).html);
}

fn adds_up(page: &str) {
    let table = page.split("class=\"balance\"").nth(1).unwrap().split("</table>").next().unwrap();
    let of_row = |row: &str| {
        let cell = row.rsplit("<td").next().unwrap().split_once('>').unwrap().1;
        let number: String = cell.replace('−', "-").chars().take_while(|c| !c.is_whitespace() && *c != '<').collect();
        number.trim_start_matches('+').parse::<f64>().unwrap_or(0.0)
    };
    let rows: Vec<f64> = table.split("<tr").skip(2).map(of_row).collect();
    let (total, parts) = rows.split_last().unwrap();
    let sum: f64 = parts.iter().sum();
    assert!((sum - total).abs() < 0.06 * parts.len() as f64 && total.abs() > 0.1, "{parts:?} against {total}");
}

/// Where all worth is in money, feed that has no price counts nothing, and the sheet says why.
#[test]
fn feed_without_a_price_is_told_so() {
    let page = page(
        |model| {
            model.aim_unit = AimUnit::Money(money::parse("12 EUR").unwrap().1);
            model.aims.retain(|(measure, _)| *measure != Measure::FeedSaved);
        },
        3,
    );
    let row = page.split("Feed to buy").nth(1).unwrap().split("</tr>").next().unwrap();
    assert!(row.contains("no price given"), "{row}");
    adds_up(&page);
}

/// Words of a page or chart that are a metric unit.
fn metric_words(text: &str) -> Vec<&str> {
    const METRIC: [&str; 12] = ["kg", "g", "kg/ha", "g/m2", "g/m²", "m2", "m²", "mm", "m", "ha", "hectare", "°C"];
    let body = text.split_once("</style>").map_or(text, |(_, body)| body);
    let mut depth_free = body.split('<').map(|piece| piece.split_once('>').map_or("", |(_, words)| words));
    let words = depth_free.by_ref().flat_map(|words| words.split(|c: char| c.is_whitespace() || "(),;:".contains(c)));
    words.filter(|word| METRIC.contains(word)).collect()
}

#[test]
fn us_units_leave_no_metric_unit_but_in_the_rule_as_it_is_written() {
    let rule = "170 kg N per hectare";
    for Report { html, charts } in [report(|_| (), 6, Units::Us), season(Units::Us)] {
        let rest = html.replace(&format!("{rule} (152 lb per acre)"), "");
        assert!(rest.len() < html.len() && !rest.contains(rule));
        assert_eq!(metric_words(&rest), Vec::<&str>::new());
        assert!(rest.contains("lb/acre") && rest.contains("ft²"));
        for (name, chart) in &charts {
            assert_eq!(metric_words(&chart.svg), Vec::<&str>::new(), "{name}");
            assert_eq!(metric_words(&format!("<p>{}", chart.alt)), Vec::<&str>::new(), "{name}");
        }
    }
    // The test itself finds them where they are.
    let metric = report(|_| (), 6, Units::Metric).html;
    assert!(metric_words(&metric).len() > 20 && !metric.contains("lb/acre"));
}

#[test]
fn the_table_fits_eighty_columns() {
    let (model, _) = site(|_| ());
    let comparison = compared(&model, &NAMES, 4);
    let text = analysis::table::compare_table(&model, &comparison, Units::Metric);
    assert!(text.lines().all(|line| line.chars().count() <= analysis::table::WIDTH), "{text}");
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = comparison.words(Units::Metric);
    let verdict: Vec<&str> = words.split_whitespace().collect();
    assert!(flat.contains(&verdict.join(" ")), "{text}");
}
