//! Cautions, in one place for check, report, page and sheets.
//!
//! Rules named: USDA NOP, 7 CFR 205.203(c) (raw manure and harvest); Council Directive
//! 91/676/EEC, annex III (170 kg N/ha a year, a rule on the farm's area). Plants that can
//! harm birds come from the library, each with the class of its source. What birds do to the helpers among insects and
//! spiders, which the model does not count, is told where they may go under fruit.

use crate::harvest_dates::{WaitSetBy, harvest_dates};
use crate::units::Units;
use crate::wording::{WINDFALL, capital, longest_of_countries};
use scenarios::library::Hazard;
use scenarios::{Library, SiteModel};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sim_engine::site::Plot;

/// A caution.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Caution {
    /// What it is about.
    pub about: String,
    /// What to heed.
    pub text: String,
}

/// Nitrogen of manure a hectare and year that the European rule allows on a farm's area, kg
/// (Council Directive 91/676/EEC, annex III).
pub const NITROGEN_RULE_KG_HA: f64 = 170.0;

/// The cautions of a site.
#[must_use]
pub fn of(model: &SiteModel, library: &Library, units: Units) -> Vec<Caution> {
    [
        ("Raw manure and harvest", Some(manure(model))),
        ("Hands and Salmonella", Some(HANDS.to_owned())),
        ("Avian influenza", Some(influenza(model))),
        ("Plants that can harm birds", Some(plants(model, library))),
        ("Sprays, bait and treated seed", Some(SPRAYS.to_owned())),
        ("Slugs, snails and worms", Some(SLUGS.to_owned())),
        ("What birds save from slugs", saved_from_slugs(model)),
        ("Helpers under fruit", helpers(model)),
        ("Old soil in towns", Some(LEAD.to_owned())),
        ("Dusk and predators", Some(DUSK.to_owned())),
        ("Smell and neighbours", crate::smell::caution(model, units)),
        ("Manure nitrogen and phosphorus", Some(nutrients(units))),
        ("Local rules and licensed people come first", Some(LOCAL.to_owned())),
        ("A comparison, not a promise", Some(COMPARISON.to_owned())),
    ]
    .into_iter()
    .filter_map(|(about, text)| Some(Caution { about: about.to_owned(), text: text? }))
    .collect()
}

const HANDS: &str = "Hens that look well can carry Salmonella. Wash hands with soap after handling birds, eggs, bedding, soil or gates, \
before you eat or harvest; keep boots and tools of the hen yard out of the kitchen; watch small children.";

const SPRAYS: &str = "No bird goes where something was sprayed or bait lies until the days on its label are over and every pellet is gone \
(write it as an event, \"sprayed\" or \"bait laid\", and the gate stays shut); what is for organic growing may still harm birds, copper \
and bait too. Slugs and rats that died of bait poison the bird that eats them. Dressed seed, often dyed, is poison: sow it deep, or keep birds \
off. After any medicine eggs and meat are not eaten for the days the vet or the label says. (Common practice, no source; the label comes first.)";

const SAVED_FROM_SLUGS: &str = "How many slugs and snails birds find was never tried in a trial that we know of; it is what keepers say, ducks many, hens few, \
and the range is wide. Nobody here picks slugs by hand, sets collars or sows again, so what slugs take of a crop, and what birds save of it, \
is more than in a garden that is cared for. Read a lead that comes from harvest saved from slugs as a guess.";

const SLUGS: &str = "Slugs, snails and earthworms carry gapeworm and other worms into birds: gasping birds go to a vet. Where it is warm \
they, and rats, can carry rat lungworm, which harms people: wash and look over what is eaten raw, keep children from handling them. \
(From memory; ask your health authority what is found where you live.)";

const LEAD: &str = "Soil of old town gardens, near old paint, burnt rubbish or busy roads may hold lead, which hens take in with the soil and lay \
into their eggs: have soil, and eggs, tested before birds scratch there and before children eat the eggs. (From memory.)";

const DUSK: &str = "Foxes and other hunters come at dusk and dawn. Where gates stand open for the last hours of a day, count the birds in and \
shut the house before dark.";

const LOCAL: &str = "By-laws on keeping hens, nutrient and water rules and rules for selling produce differ from place to place and come before \
anything said here. For a sick or dying bird ask a vet; for worms have droppings looked at before treating.";

const COMPARISON: &str = "The figures compare strategies on the same possible years. They are a model's answer with its doubts shown, not a promise \
of what your ground will do: watch the ground, and shut the gate when it looks wrong.";

fn nutrients(units: Units) -> String {
    format!(
        "Phosphorus usually reaches what is good practice before nitrogen does: look at both. The rule of {} and year is about \
a farm's whole area, not one plot; what applies to you is in your local rules. A soil test tells more than any sum.",
        units.nitrogen_rule(NITROGEN_RULE_KG_HA)
    )
}

fn manure(model: &SiteModel) -> String {
    let rules = &model.base.rules;
    let mut text = format!(
        "Droppings are raw manure. Gates of a plot stay shut for {} days before a harvest whose edible part touches the soil, and for {} days before any other.",
        rules.waiting_days_touching, rules.waiting_days_other
    );
    for country in model.rules_that_count() {
        text += &format!(
            " The rule named is that of {}{}: {} ({}). It binds {}.",
            country.country,
            longest_of_countries(model),
            country.rule,
            country.clause,
            country.binds
        );
    }
    text += &match &model.waiting_rule_reason {
        _ if !model.waiting_rules.is_empty() => String::new(),
        Some(_) => " The rule of the US organic programme is 120 and 90 days (7 CFR 205.203(c)).".to_owned(),
        None => " That is the rule of the US organic programme (7 CFR 205.203(c)); yours may ask for more.".to_owned(),
    };
    if let Some(reason) = &model.waiting_rule_reason {
        text += &format!(" This site sets its own, because: \"{}\".", reason.trim_end_matches('.'));
    }
    own_waits(model).iter().for_each(|words| text += words);
    if model.base.plots.iter().flat_map(Plot::harvests).any(|harvest| harvest.windfall) {
        text += &format!(" Fallen fruit from ground that birds used: {WINDFALL}.");
    }
    text + " Waiting lowers the risk, it does not end it: wash what is eaten raw."
}

/// Days of the keeper's own before one harvest, each with its reason and what the rule asks for.
pub(crate) fn own_waits(model: &SiteModel) -> Vec<String> {
    let mut told = Vec::new();
    for harvest in harvest_dates(model) {
        let WaitSetBy::Harvest(reason) = harvest.set_by else { continue };
        let because =
            reason.map_or_else(String::new, |reason| format!(", because: \"{}\"", reason.trim_end_matches('.')));
        let (fallen, waits) = if harvest.window.windfall { ("windfalls of ", "wait") } else { ("", "waits") };
        let words = format!(
            " {} in {} {waits} {} days instead of {}{because}.",
            capital(&format!("{fallen}{}", harvest.name)),
            model.base.plots[harvest.plot].name,
            harvest.wait_days,
            harvest.rule_days
        );
        if !told.contains(&words) {
            told.push(words);
        }
    }
    told
}

fn influenza(model: &SiteModel) -> String {
    let netted = if model.base.yard.netted {
        "The yard is netted, which keeps wild birds out, and the birds are in it under an order here; whether they may be is for the order to say."
    } else {
        "The yard is not netted: wild birds and their droppings can reach it."
    };
    format!(
        "When the authority orders birds to be kept in, that order comes before every gate in this strategy. {netted} \
Several birds dying or ill at once, or a sudden fall in eggs, feed or water taken: touch nothing more and report it to your state or national animal-health authority."
    )
}

/// How little is known of birds against slugs; `None` where no plot has any.
fn saved_from_slugs(model: &SiteModel) -> Option<String> {
    model.base.plots.iter().any(|plot| !plot.slugs.is_empty()).then(|| SAVED_FROM_SLUGS.to_owned())
}

/// What is known of helpers that birds eat or drive off; `None` where no plot bears fruit under which birds could go.
fn helpers(model: &SiteModel) -> Option<String> {
    let site = &model.base;
    let bears = |kind: usize| {
        let params = &site.canopies[kind].params;
        params.fruit_yield > 0.0 || params.fruit_fall > 0.0
    };
    site.plots.iter().flat_map(|plot| &plot.canopies).any(|canopy| bears(canopy.canopy)).then_some(())?;
    let nests = if site.place.latitude_deg < 0.0 { "May to November" } else { "November to May" };
    let mut text = format!(
        "Birds under fruit eat helpers too, which no figure here counts. Under hens and geese in an orchard spiders and harvestmen were \
fewer, ground beetles, rove beetles and earthworms as many as without (Clark & Gage 1997, Appl. Soil Ecol. 5:255). On plots of table birds \
spiders and rove beetles were more on the ground, but beetles, bugs and wasps on the plants about four to five times fewer (Garcia et al. 2023, \
Front. Sustain. Food Syst.): on spiders the two trials disagree. Earwigs, which eat aphids in the trees, nest in the ground from \
{nests}, and birds let in then meet them there (Moerkens et al. 2009)."
    );
    if site.groups.iter().any(|group| is_duck(&site.birds[group.class].name)) {
        text += " With ducks in rice spiders were fewer and planthoppers and leafhoppers more (Qian et al. 2022, Biocontrol Sci. Technol.).";
    }
    Some(text)
}

fn is_duck(class: &str) -> bool {
    class.contains("duck") || class == "muscovy"
}

/// What the site names of the library's hazards; the library's caveat in any case.
fn plants(model: &SiteModel, library: &Library) -> String {
    let found: Vec<String> = library.hazards().iter().filter(|h| named(model, h)).map(hazard_words).collect();
    let mut text = if found.is_empty() {
        "No plant named in this site file is among the plants this program knows to be able to harm birds; a plant that is not named there is unknown, not harmless.".to_owned()
    } else {
        format!("Named in this site: {}. A plant that is not listed is unknown, not harmless.", found.join("; "))
    };
    if let Some(view) = library.moderating_view() {
        text += &format!(" On the other side: {} ({}).", view.note.trim_end_matches('.'), view.class);
    }
    text
}

fn hazard_words(h: &Hazard) -> String {
    format!("{} – {} (source: {})", h.plant, h.part, h.class)
}

/// Whether a plot, crop, canopy, weed or cover of the site bears the plant's name.
fn named(model: &SiteModel, hazard: &Hazard) -> bool {
    let site = &model.base;
    // "beans, raw" is looked for as "bean".
    let stem = hazard.plant.split(',').next().unwrap_or_default().trim_end_matches('s').to_lowercase();
    let names = site
        .plots
        .iter()
        .map(|p| &p.name)
        .chain(site.crops.iter().map(|c| &c.name))
        .chain(site.canopies.iter().map(|c| &c.name))
        .chain(site.weeds.iter().map(|w| &w.name))
        .chain(site.covers.iter().map(|c| &c.name));
    let mut plain = names.map(|name| name.to_lowercase().replace(['-', '_'], " "));
    plain.any(|name| {
        let words: Vec<&str> = name.split_whitespace().map(|w| w.trim_end_matches('s')).collect();
        let wanted: Vec<&str> = stem.split_whitespace().collect();
        !wanted.is_empty() && words.windows(wanted.len()).any(|w| w == wanted)
    })
}
