//! A garden with slugs or snails.

use super::{library, mean, no_birds};
use scenarios::{SiteModel, site_file};
use sim_engine::run::recorder::RunView;

/// 200 m² of grass with beds of sown spinach, year after year, and this slug.
pub fn garden(slug: &str, climate: &str, start: f64, years: u32, birds: &str) -> SiteModel {
    let latitude = library().climate(climate).unwrap().latitude_deg;
    let one = |year: u32| format!("[[plot.here.crop]]\ncrop = \"spinach\"\nin_ground = [{year}-04-15, {year}-06-25]\n");
    let crops: String = (2027..2027 + years).map(one).collect();
    let text = format!(
        "format = 2\nlatitude = \"{latitude} deg\"\n[run]\nstart = 2027-01-01\nyears = {years}\n\
         [weather]\nclimate = \"{climate}\"\n[yard]\narea = \"40 m2\"\n[rules]\nshut_on = []\n\
         [birds.flock]\n{birds}\n[plot.here]\narea = \"200 m2\"\nsoil = \"loam\"\nrings = 1\nbeds = 0.4\n\
         cover = {{ plant = \"mown grass\" }}\nslugs = [{{ species = \"{slug}\", start = \"{start} per m2\" }}]\n{crops}"
    );
    site_file::read_text("slugs.toml", &text, library(), &|_| Err("none".into()))
        .unwrap_or_else(|f| panic!("{f}\n{text}"))
}

/// Young and adults per m² of plot.
pub fn slugs(run: &RunView) -> f64 {
    super::over_plot(run, 0, |zone| run.ground.slugs[run.world.constants.zones[zone].slugs.start].number())
}

/// Every New Year's Eve, without birds.
pub fn eves(model: &SiteModel, draw: u64) -> Vec<f64> {
    let drivers = super::drivers(model, &model.base, draw);
    let mut eves = Vec::new();
    no_birds(&model.base, &drivers, |view| {
        let date = drivers.days[view.day].date;
        if (date.month(), date.day()) == (12, 31) {
            eves.push(slugs(&view.run()));
        }
    });
    eves
}

/// Mean of the last five of ten years.
pub fn settled(model: &SiteModel, draw: u64) -> f64 {
    let drivers = super::drivers(model, &model.base, draw);
    let mut days = Vec::new();
    no_birds(&model.base, &drivers, |view| days.push(slugs(&view.run())));
    mean(&days[days.len() / 2..])
}
