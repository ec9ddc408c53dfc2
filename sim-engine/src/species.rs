//! What the library describes: soils, plants, pests, canopies, bird classes, and
//! the numbers of the processes that are no one's own.
//!
//! Each kind is a set of [`parameters`](crate::parameters) plus the few facts
//! that are not numbers. Dates within the year count in days from the winter
//! solstice of the site's own hemisphere, so one entry serves both.

use crate::parameters::parameters;

parameters! {
    /// Water, fertility and runoff of a soil.
    SoilParams {
        field_capacity ["m3/m3"] "Water held two days after a soaking (FAO-56 Table 19).";
        wilting_point ["m3/m3"] "Water left when plants wilt for good (FAO-56 Table 19).";
        saturation_room ["mm"] "Room for water above field capacity in the root zone.";
        drainage_rate ["1/d"] "Share rate at which water above field capacity drains.";
        soft_at_field_capacity ["-"] "How soft it is underfoot at field capacity, against saturated = 1.", Share;
        curve_number_good ["-"] "SCS curve number under good cover (TR-55, pasture good).", Between(1.0, 100.0);
        curve_number_bare ["-"] "SCS curve number of bare soil (TR-55, fallow bare).", Between(1.0, 100.0);
        organic_nitrogen ["kg/ha"] "Slow organic nitrogen in the root zone at the start.";
        nitrogen_supply ["kg/ha/d"] "Nitrogen the slow pool releases a day at 15 C.";
        phosphorus ["kg/ha"] "Soil phosphorus plants can draw on over the years, at the start.";
    }
}

parameters! {
    /// A perennial ground cover.
    CoverParams {
        growth_rate ["1/d"] "Relative growth at the best temperature, light, water and nitrogen.";
        capacity ["g/m2"] "Live plant mass at which growth stops (all plants of the ground together).", Between(1.0, 20_000.0);
        base_temperature ["C"] "No growth below (beta response, Yan & Hunt 1999).";
        best_temperature ["C"] "Fastest growth.";
        ceiling_temperature ["C"] "No growth above.";
        cover_per_mass ["m2/g"] "Light extinction times leaf area per mass: cover = 1 - exp(-this x mass).";
        ageing_rate ["1/d"] "Dying of old leaf at the best temperature, full capacity.";
        ageing_rate_base ["1/d"] "Dying of old leaf whatever the temperature.";
        out_of_reach ["g/m2"] "Stubble and rosettes that birds cannot take.";
        bitten_growth ["-"] "Growth of sward just bitten, as a share of rested sward.", Share;
        recovery_days ["d"] "Days of good growth from a bite to fully rested.", Between(1.0, 1_000.0);
        bite_spread ["-"] "Share of surface bitten per share of mass taken.", UpTo(20.0);
        touch_setback ["-"] "Share of the scratched surface that is set back like a bite.", Share;
        crown_regrowth ["g/m2/d"] "Regrowth from crowns at best growth.";
        crown_scratch_loss ["-"] "Crowns killed per scratching of surface that was just bitten.", Share;
        crown_death ["1/d"] "Crown death where nothing is rested.";
        crown_recovery ["1/d"] "Crowns regained (tillers, stolons, seed) at best growth where cover is full.";
        scratch_loss ["-"] "Cover torn out per scratching.", Share;
        tread_loss ["-"] "Cover and crowns lost per treading of saturated ground.", UpTo(10.0);
        preference ["-"] "How readily hens take it, against sward = 1.", UpTo(20.0);
        grass_share ["-"] "Share of grasses in it; the rest is broadleaved.", Share;
        nitrogen_content ["g/g"] "Nitrogen per dry mass.";
        phosphorus_content ["g/g"] "Phosphorus per dry mass.";
        fixed_share ["-"] "Share of its nitrogen that legumes in it fix from the air where the soil has little.", Share;
        rooting_depth ["m"] "Depth of the root zone under it (FAO-56 Table 22).", Between(0.05, 10.0);
        depletion_fraction ["-"] "Share of available water used before growth slows (FAO-56 Table 22).", Share;
        shade_tolerance ["-"] "Growth kept in full shade, against light alone (0 sun plant, 1 shade plant).", Share;
    }
}

parameters! {
    /// An annual weed that lives from its seed bank.
    WeedParams {
        growth_rate ["1/d"] "Relative growth at its best.";
        base_temperature ["C"] "No growth or emergence below.";
        best_temperature ["C"] "Fastest growth.";
        ceiling_temperature ["C"] "No growth above.";
        cover_per_mass ["m2/g"] "Light extinction times leaf area per mass.";
        emergence_rate ["1/(C d)"] "Share of the bank that emerges per degree-day on bare, still, moist ground.", Share;
        emergence_disturbance ["-"] "How much a full scratching adds to emergence.", UpTo(100.0);
        emergence_cover ["-"] "How strongly cover holds emergence back.", UpTo(50.0);
        seedling_mass ["g"] "Dry mass of a seedling at emergence.", Between(1e-6, 1.0);
        bank_death ["1/yr"] "Death rate of seeds in undisturbed soil (Roberts & Feast 1973).";
        bank_death_disturbed ["1/yr"] "Death rate of seeds in disturbed soil (Roberts & Feast 1973).";
        surface_share ["-"] "Share of the bank at the surface, where birds find it.", Share;
        days_to_mature ["C d"] "Thermal time from emergence to seed shedding.", Between(50.0, 20_000.0);
        seeds_per_mass ["1/g/d"] "Seeds a mature plant sheds per g and day at best temperature.", UpTo(200.0);
        lost_before_bank ["-"] "Share of shed seed that never joins the bank.", Share;
        seed_mass ["g"] "Mass of one seed.", Between(1e-7, 50.0);
        seeds_blown_in ["1/m2/yr"] "Seeds that arrive from outside.";
        death_mature ["1/d"] "Dying of mature plants.";
        frost_kill ["1/(C d)"] "Extra death per degree below -4 C.";
        out_of_reach ["g/m2"] "Mass birds cannot take.";
        preference ["-"] "How readily hens take it, against sward = 1.", UpTo(20.0);
        grass_share ["-"] "Share of grasses in it; the rest is broadleaved.", Share;
        scratch_loss_young ["-"] "Seedlings torn out per scratching.", Share;
        scratch_loss ["-"] "Older plants torn out per scratching.", Share;
        crowding ["-"] "Weight of ground cover and crop in crowding this weed.", UpTo(10.0);
        nitrogen_content ["g/g"] "Nitrogen per dry mass.";
        phosphorus_content ["g/g"] "Phosphorus per dry mass.";
        yield_loss_per_mass ["m2/g"] "Cousens' initial slope, per g of weed (share of yield).";
    }
}

parameters! {
    /// A creeping perennial weed that lives from a root reserve birds cannot reach.
    CreeperParams {
        growth_rate ["1/d"] "Relative growth of shoots at their best.";
        base_temperature ["C"] "No growth below.";
        best_temperature ["C"] "Fastest growth.";
        ceiling_temperature ["C"] "No growth above.";
        cover_per_mass ["m2/g"] "Light extinction times leaf area per mass.";
        shooting_rate ["1/d"] "Share of the reserve sent up as shoots a day at best growth.";
        reserve_share ["-"] "Share of shoot growth that goes to the reserve.", Share;
        reserve_room ["g/m2"] "Reserve at which no more is stored.", Between(1.0, 20_000.0);
        reserve_upkeep ["1/d"] "Loss of reserve a day at 20 C.";
        ageing_rate ["1/d"] "Dying of shoots a day at the best temperature.";
        frost_kill ["1/(C d)"] "Shoot death per degree below -4 C.";
        out_of_reach ["g/m2"] "Shoots birds cannot take.";
        preference ["-"] "How readily hens take shoots, against sward = 1.", UpTo(20.0);
        grass_share ["-"] "1 for a grass, 0 for a broadleaved plant.", Share;
        scratch_loss ["-"] "Shoots torn out per scratching.", Share;
        crowding ["-"] "Weight of ground cover and crop in crowding it.", UpTo(10.0);
        nitrogen_content ["g/g"] "Nitrogen per dry mass.";
        phosphorus_content ["g/g"] "Phosphorus per dry mass.";
        yield_loss_per_mass ["m2/g"] "Cousens' initial slope, per g of weed (share of yield).";
    }
}

parameters! {
    /// A crop of the beds.
    CropParams {
        growth_rate ["1/d"] "Relative growth at its best.";
        capacity ["g/m2"] "Stand at which growth stops.", Between(1.0, 20_000.0);
        base_temperature ["C"] "No growth below.";
        best_temperature ["C"] "Fastest growth.";
        ceiling_temperature ["C"] "No growth above.";
        cover_per_mass ["m2/g"] "Light extinction times leaf area per mass.";
        planted_mass ["g/m2"] "Live mass the day it goes into the ground.", Between(0.001, 20_000.0);
        days_to_ripe ["C d"] "Thermal time from planting to ripe.", Between(1.0, 20_000.0);
        harvest_share ["-"] "Share of the stand that is carried away as yield.", Share;
        dry_matter ["-"] "Dry share of what is carried away.", Between(0.01, 1.0);
        preference ["-"] "How readily hens take it, against sward = 1.", UpTo(20.0);
        grass_share ["-"] "Share of grasses in it; the rest is broadleaved.", Share;
        residue_preference ["-"] "How readily hens take what is left standing after harvest.", UpTo(20.0);
        scratch_loss ["-"] "Stand torn out per scratching.", Share;
        residue_scratch_loss ["-"] "Residue scratched to the ground per scratching.", Share;
        nitrogen_content ["g/g"] "Nitrogen per dry mass.";
        phosphorus_content ["g/g"] "Phosphorus per dry mass.";
        greatest_yield_loss ["-"] "Cousens' asymptote: the most weeds can take.", Between(0.01, 1.0);
        rooting_depth ["m"] "Rooting depth (FAO-56 Table 22).", Between(0.05, 10.0);
        depletion_fraction ["-"] "Share of available water used before growth slows (FAO-56 Table 22).", Share;
        slug_taste ["-"] "How readily slugs take it, against broad leaf = 1.", UpTo(20.0);
    }
}

parameters! {
    /// Trees, bushes or canes over a plot.
    CanopyParams {
        shade_in_leaf ["-"] "Share of light held back in leaf.", Share;
        shade_bare ["-"] "Share of light held back without leaves.", Share;
        leaf_out ["d"] "Leaf-out, days after the winter solstice.";
        leaf_fall ["d"] "Leaf-fall, days after the winter solstice.";
        leaf_litter ["g/m2"] "Leaf mass that falls to the ground at leaf-fall.";
        fruit_from ["d"] "First fruit falls, days after the winter solstice.";
        fruit_to ["d"] "Last fruit falls, days after the winter solstice.";
        fruit_fall ["g/m2"] "Dry fruit that falls in a year.";
        fruit_yield ["kg/m2"] "Fresh fruit picked in a year, of ground fully planted.";
        fruit_reach ["-"] "Share of the fruit that birds can reach from the ground.", Share;
        water_use ["-"] "Added to the crop coefficient in leaf.", UpTo(2.0);
        nitrogen_content ["g/g"] "Nitrogen per dry mass of fallen leaf and fruit.";
        phosphorus_content ["g/g"] "Phosphorus per dry mass of fallen leaf and fruit.";
        wood_nitrogen ["kg/ha/yr"] "Nitrogen that stays in wood and roots a year, of ground under the canopy.";
        wood_phosphorus ["kg/ha/yr"] "Phosphorus that stays in wood and roots a year, likewise.";
    }
}

parameters! {
    /// A pest with a stage in the soil.
    PestParams {
        base_temperature ["C"] "Lower threshold of its degree-days.";
        upper_temperature ["C"] "Upper threshold, horizontal cut-off (a high value where none is published).";
        counting_from ["d"] "Day its degree-days start, after the winter solstice.";
        emergence ["C d"] "Degree-days to half of spring emergence (the median, not the first).";
        emergence_spread ["C d"] "Standard deviation of emergence.", Between(1.0, 5_000.0);
        egg_to_drop ["C d"] "Degree-days from egg to the larva that enters the soil.", Between(1.0, 20_000.0);
        summer_soil ["C d"] "Degree-days a summer generation stays in the soil.", Between(1.0, 20_000.0);
        resting_from ["d"] "Day from which larvae entering the soil stay for the winter (0: always).";
        season_end ["d"] "End of its season above ground, days after the winter solstice: flight is over and the last larvae have dropped.";
        two_winter_share ["-"] "Share that stays a second winter.", Share;
        adult_life ["d"] "Mean life of an adult that lays.", Between(0.5, 1_000.0);
        before_laying ["C d"] "Degree-days from leaving the soil to the first eggs.";
        eggs_per_adult ["1"] "Eggs per adult of either sex in a full life.", UpTo(10_000.0);
        crowding ["m2"] "Loss of eggs by crowding, per egg or larva.", Between(1e-4, 1_000.0);
        death_above_ground ["1/d"] "Death of eggs and larvae above ground.";
        death_adult ["1/d"] "Adults lost to weather.";
        death_soil ["1/d"] "Death in the soil, besides birds.";
        death_cold ["1/d"] "Death in the soil more, where it is colder than `cold_below`.";
        cold_below ["C"] "Soil temperature below which cold kills it in the soil.", Between(-60.0, 60.0);
        around ["-"] "Adults round about where the site does not say, against 'few' = 1.", UpTo(100.0);
        fly_in ["1/m/d"] "Adults flying in over a metre of the plot's edge per day of the flight where neighbours are 'few'.";
        mixing ["1/d"] "Rate at which adults exchange between host plots.";
        depth ["cm"] "Median depth at which it rests in the soil.", Between(0.05, 300.0);
        depth_spread ["-"] "Standard deviation of the logarithm of its depth.", Between(0.01, 3.0);
        depth_active ["cm"] "Median depth it comes up to in warm soil, where it moves at all.", Between(0.05, 300.0);
        down_below ["C"] "Soil temperature below which it is at its resting depth (60 and more: it never moves).", Between(-60.0, 100.0);
        in_soil ["-"] "Share that rests in the soil, not on bark, in stems or in fruit.", Share;
        drops_in_fruit ["-"] "Share of its larvae that come down inside fallen fruit.", Share;
        fruit_stay ["d"] "Mean stay of a larva in fallen fruit before it enters the soil.", Between(0.1, 366.0);
        search_soil ["m2/bird-day"] "Area of the scratched layer emptied of it per bird-day.";
        search_emerging ["m2/bird-day"] "Area in which emerging adults are caught per bird-day.";
        search_dropping ["m2/bird-day"] "Area in which dropping larvae are caught per bird-day.";
        handling_time ["bird-day"] "Bird time per prey eaten (Rogers 1972); 0 where searching alone limits.";
        body_mass ["g"] "Dry mass of one larva or pupa.", Between(1e-6, 100.0);
        damage_per_larva ["m2"] "Crop damage per larva and m2 (share = 1 - exp(-this x larvae)).";
    }
}

parameters! {
    /// A slug or snail.
    SlugParams {
        base_temperature ["C"] "Night below which none is out.";
        best_temperature ["C"] "Night at which most are out.";
        ceiling_temperature ["C"] "Night above which none is out.";
        hatch_base ["C"] "Soil temperature below which eggs stand still.";
        hatch ["C d"] "Degree-days from egg to hatching.", Between(10.0, 5_000.0);
        growing_up ["d"] "Days of full activity from hatching to the first eggs.", Between(5.0, 3_000.0);
        eggs_a_day ["1/d"] "Eggs an adult lays on a day of full activity.", UpTo(30.0);
        crowding ["1/m2"] "Young and adults at which laying is halved.", Between(0.1, 1_000.0);
        death_egg ["1/d"] "Death of eggs in damp soil.";
        death_young ["1/d"] "Death of young on a day of full activity in soil of 12 C, by beetles and other hunters too.";
        death_adult ["1/d"] "Death of adults on a day of full activity in soil of 12 C.";
        death_hidden ["-"] "Death of those hidden in the soil, against out and active = 1.", Share;
        ageing_doubles ["C"] "Warming that doubles the death of active ones.", Between(2.0, 60.0);
        death_dry_egg ["1/d"] "Death of eggs more, in wholly dry soil.";
        death_dry ["1/d"] "Death of young and adults more, in wholly dry soil.";
        frost_kill ["1/(C d)"] "Death of young and adults per degree below -4 C without snow.";
        creeps_in ["1/m/d"] "Adults creeping in over a metre of the plot's edge on a day of full activity.", UpTo(10.0);
        leaf_eaten ["g/d"] "Dry leaf an adult eats on a day of full activity.", UpTo(5.0);
        taken ["-"] "How readily birds take it, against the grey field slug = 1.", UpTo(20.0);
        eggs_near ["-"] "Share of its eggs within the layer birds scratch.", Share;
    }
}

parameters! {
    /// A class of bird.
    BirdParams {
        body_mass ["kg"] "Live mass.";
        maintenance ["-"] "Energy for maintenance against that of a hen of the same metabolic mass.", Between(0.05, 10.0);
        egg_mass ["g/d"] "Egg mass laid a day.";
        gain ["g/d"] "Body mass gained a day.";
        green_intake ["g/d"] "Most green dry matter eaten a day out of doors.";
        grass_taste ["-"] "How readily it takes grasses, against a hen = 1.", UpTo(20.0);
        broadleaf_taste ["-"] "How readily it takes broadleaved plants, against a hen = 1.", UpTo(20.0);
        fruit_taste ["-"] "How readily it takes fallen fruit, against a hen = 1.", UpTo(20.0);
        scratching ["m2/bird-day"] "Surface of loose ground scratched per bird-day.";
        insect_search ["m2/bird-day"] "Surface searched for insects per bird-day.";
        seed_search ["m2/bird-day"] "Surface cleared of loose seed per bird-day.";
        slug_search ["m2/bird-day"] "Surface cleared of the slugs that are out per bird-day.", UpTo(1_000.0);
        protein_share ["-"] "Crude protein of its bought feed, as fed.", Share;
        ranging_share ["-"] "Share of the birds that go out on a day.", Share;
        treading ["m2/bird-day"] "Wet ground pressed firm per bird-day.";
        space_rule ["m2"] "Outdoor area per bird under the organic rule.", Between(0.01, 10_000.0);
    }
}

parameters! {
    /// Numbers of the processes that belong to no one plant, pest or bird.
    ProcessParams {
        scratch_depth_turf ["cm"] "Depth of the layer birds scratch in a sward.", Between(0.1, 50.0);
        scratch_depth_bed ["cm"] "Depth of the layer birds scratch in a bed.", Between(0.1, 50.0);
        light_half ["MJ/m2/d"] "Sunlight at which growth is half of its best.";
        light_full ["MJ/m2/d"] "Sunlight at which growth is at its best.";
        nitrogen_half ["kg/ha"] "Mineral nitrogen at which growth is half.", Between(0.01, 1_000.0);
        uptake_share ["-"] "Most of the mineral nitrogen plants can take in a day.", Share;
        fixing_half ["kg/ha"] "Mineral nitrogen at which a legume fixes half of what it does without any.", Between(0.01, 10_000.0);
        intake_half ["g/m2"] "Food within reach at which intake is half of the most.", Between(0.1, 10_000.0);
        crop_coefficient_bare ["-"] "Evaporation of bare ground against reference.", UpTo(3.0);
        crop_coefficient_full ["-"] "Water use under full cover against reference.", UpTo(3.0);
        evaporation_bias ["-"] "Factor on reference evaporation (temperature-based forms are off by 20-30 % on a day).", Between(0.1, 5.0);
        dead_decay ["1/d"] "Decay of dead cover at 20 C.";
        fruit_decay ["1/d"] "Decay of fallen fruit at 20 C.";
        residue_fall ["1/d"] "Residue that falls over to the ground.";
        dead_cover_per_mass ["m2/g"] "Cover of dead material (RUSLE form 1 - exp(-this x mass)).";
        q10 ["-"] "Rise of soil life per 10 C.", Between(1.0, 10.0);
        humus_share ["-"] "Share of the nitrogen of decayed dead cover and fresh matter, manure included, that goes to the slow pool.", Share;
        mix_in ["-"] "Dead cover mixed into the soil per scratching.", Share;
        settling ["1/d"] "Settling of scratched ground.";
        soil_thrown ["kg/m2"] "Soil thrown out of beds per scratching.";
        firm_loosening ["1/d"] "Loosening of firmed ground.";
        firm_growth_loss ["-"] "Share of growth lost where the ground is wholly trodden firm.", Share;
        firm_deficit ["mm"] "Water below field capacity at which ground bears birds unharmed.", Between(0.1, 1_000.0);
        turf_scratching ["-"] "What of that birds scratch where a sward is closed.", Share;
        turf_opening ["-"] "Share of what is scratched of closed turf that is laid bare for weeds.", Share;
        soft_tearing ["-"] "How much more a scratch tears on saturated ground.", UpTo(20.0);
        seed_deepening ["1/d"] "Surface seed that sinks into the soil.";
        young_stand ["-"] "Times the mass it was planted with at which half of what is eaten of a crop is whole plants.", Between(0.01, 1_000.0);
        slug_dry_soil ["-"] "Share of the available water at and below which no slug comes out of the soil.", Between(0.0, 0.95);
        slug_wetting ["mm"] "Rain that wets the surface for slugs to two thirds.", Between(0.01, 1_000.0);
        slug_bare_ground ["-"] "Activity of slugs on bare ground against covered.", Share;
        slug_taste_grass ["-"] "How readily slugs take grass, against broad leaf = 1.", UpTo(20.0);
        slug_taste_dead ["-"] "How readily slugs take dead leaf, against broad leaf = 1.", UpTo(20.0);
        slug_food_half ["g/m2"] "Food at which slugs eat half of what they want.", Between(0.01, 10_000.0);
        home_pull ["m"] "Pull of house, feed and water on the birds' time.", Between(0.01, 100.0);
        yard_pull ["-"] "Pull of the yard, per metre of its reach.", UpTo(100.0);
        plot_pull ["-"] "Pull of a bare plot.", UpTo(100.0);
        green_pull ["-"] "Added pull of green food.", UpTo(100.0);
        insect_pull ["-"] "Added pull of insects.", UpTo(100.0);
        distance_scale ["m"] "Distance at which birds have thinned out to a quarter.", Between(1.0, 1_000.0);
        morning_peak ["h"] "Hours after dawn in which birds range most.";
        evening_peak ["h"] "Hours before dusk in which birds range most.";
        midday_ranging ["-"] "Ranging between the two, against that in them.", Share;
        ranging_flock ["1"] "Birds above which a smaller share of a flock goes out.", Between(1.0, 100_000.0);
        ranging_exponent ["-"] "Fall of the share that goes out with the size of a larger flock.", UpTo(5.0);
        space_days ["d/yr"] "Days a year from which an open plot counts wholly as outdoor area.";
        wet_loss ["-"] "Time lost on a day of heavy rain.", Share;
        hot_loss ["-"] "Time lost on hot days.", Share;
        cold_loss ["-"] "Time lost on frosty days.", Share;
        insect_renewal ["g/m2/d"] "Insects that come up a day at best warmth.";
        insect_room ["g/m2"] "Insects at the surface when nothing eats them.", Between(0.01, 1_000.0);
        feed_energy ["kcal/g"] "Energy of bought feed, as fed.";
        green_energy ["kcal/g"] "Energy birds get from green dry matter.";
        insect_energy ["kcal/g"] "Energy birds get from insect dry matter.";
        fruit_energy ["kcal/g"] "Energy birds get from fruit and seed dry matter.";
        feed_phosphorus ["-"] "Phosphorus of bought feed, as fed.", Share;
        feed_dry_matter ["-"] "Dry matter of bought feed.", Between(0.1, 1.0);
        feed_undigested ["-"] "Share of dry feed, fruit, seed and insects that birds drop.", Share;
        green_undigested ["-"] "Share of green dry matter that birds drop.", Share;
        insect_nitrogen ["g/g"] "Nitrogen per dry mass of insects and worms.";
        insect_phosphorus ["g/g"] "Phosphorus per dry mass of insects and worms.";
        egg_nitrogen ["g/g"] "Nitrogen of egg, shell included.";
        egg_phosphorus ["g/g"] "Phosphorus of egg, shell included.";
        body_nitrogen ["g/g"] "Nitrogen of a bird's growth, live mass.";
        body_phosphorus ["g/g"] "Phosphorus of a bird's growth, live mass.";
        uric_share ["-"] "Share of dropping nitrogen that is uric acid and urea.", Share;
        volatilised ["-"] "Share of uric nitrogen lost to the air.", Share;
        organic_decay ["1/d"] "Decay of fresh organic nitrogen at 20 C.";
        rain_nitrogen ["kg/ha/d"] "Nitrogen brought by rain and dust.";
        denitrification ["1/d"] "Mineral nitrogen lost from wet soil at 20 C.";
        nitrate_share ["-"] "Share of mineral nitrogen that moves with water.", Share;
        leaching_depth_water ["mm"] "Water that holds the nitrate of the root zone.", Between(1.0, 10_000.0);
        heap_loss ["1/d"] "Nitrogen lost from the heap at 20 C.";
        heap_decay ["1/d"] "Dry matter lost from the heap at 20 C.";
        yard_runoff ["1/d"] "Nutrients washed off the yard on a day of 20 mm.";
        bird_care ["h/d"] "Time to let the birds out and in, feed and water them, collect eggs and clean the house.";
        worm_shed ["1/bird-day"] "Worm eggs shed per infected bird-day (relative).";
        worm_ripen_intercept ["-"] "Ripening: ln days at 0 C.", Between(0.0, 15.0);
        worm_ripen_slope ["1/C"] "Ripening: fall of ln days per degree.";
        worm_ripen_above ["C"] "Worm eggs ripen only in soil warmer than this.";
        worm_decay ["1/d"] "Death of most worm eggs at 15 C.";
        worm_q10 ["-"] "Rise of their death per 10 C.", Between(1.0, 10.0);
        worm_hardy_share ["-"] "Share of the worm eggs shed that lasts.", Share;
        worm_hardy_decay ["1/d"] "Death of worm eggs that last.";
        worm_uptake ["m2/bird-day"] "Area from which a bird-day takes up worm eggs.";
        worm_half_life ["d"] "Half-life of an infection.", Between(1.0, 3_660.0);
        worm_half_uptake ["1/bird-day"] "Uptake at which infection is half of the most.";
        worm_background ["-"] "Infection that never goes away.", Share;
        heat_threshold ["C"] "Temperature-humidity index above which birds need shade.";
        dew_offset ["C"] "Dew point below the day's least temperature where no humidity is given.";
        fruit_taking ["m2/bird-day"] "How readily birds pick fruit within their reach.";
        weeds_borne ["-"] "Cover of weeds on a bed that is borne before it is weeded.", Share;
        weeding_time_clean ["h/m2"] "One weeding of ground without weeds.";
        weeding_time_weedy ["h/m2"] "One weeding of ground full of weeds, besides.";
        weeding_time_seeding ["-"] "Share more time for weeds in flower or seed.", UpTo(10.0);
        weeding_kill_young ["-"] "Share of young weeds a weeding kills.", Share;
        weeding_kill_leafy ["-"] "Share of leafy weeds a weeding kills.", Share;
        weeding_kill_mature ["-"] "Share of mature weeds a weeding kills.", Share;
        weeding_kill_shoots ["-"] "Share of the shoots of creeping weeds a weeding takes.", Share;
        grass_borne ["g/m2"] "Live mass of a sward that is borne before it is mown.", Between(1.0, 20_000.0);
        mowing_time ["h/m2"] "One cut.";
        clearing_time ["h/m2"] "Clearing a bed of all a crop left.";
        residue_full ["g/m2"] "Residue of a crop that no birds were let to.", Between(1.0, 20_000.0);
        shovelling_time ["h/m3"] "Shovelling loose soil back onto beds.";
        guard_time ["h/m2"] "Putting guards up, or taking them down.";
        net_time ["h/m2"] "Putting a fine net up, or taking it down.";
        moving_time ["h"] "A move: another gate, the count, the walk.";
        house_moving_time ["h"] "Moving a house on wheels or skids to another plot.";
        weed_visible ["m2/g"] "Weed cover per mass, for judging hand work.";
        soil_lag ["d"] "Lag of soil temperature at 5 cm behind the air.", Between(0.1, 60.0);
        soil_swing ["-"] "Share of the day's air swing left at 5 cm.", Share;
        bare_warming ["C/(MJ/m2/d)"] "Warming of bare soil by sunshine.";
        frozen_below ["C"] "Ground is frozen below.";
        snow_melt ["mm/C/d"] "Snow melt per degree above freezing.";
        snow_hides ["mm"] "Water lying as snow from which birds find neither green nor soil.", Between(0.1, 1_000.0);
        lapse_rate ["C/km"] "Fall of temperature from the height of the weather to that of the site.";
    }
}

/// A soil, by name.
#[derive(Clone, Debug, PartialEq)]
pub struct Soil {
    /// Name in the library or site.
    pub name: String,
    /// Its numbers.
    pub params: SoilParams,
}

/// A ground cover, by name.
#[derive(Clone, Debug, PartialEq)]
pub struct CoverPlant {
    /// Name in the library or site.
    pub name: String,
    /// Its numbers.
    pub params: CoverParams,
}

/// An annual weed, by name.
#[derive(Clone, Debug, PartialEq)]
pub struct WeedPlant {
    /// Name in the library or site.
    pub name: String,
    /// Its numbers.
    pub params: WeedParams,
}

/// A creeping weed, by name.
#[derive(Clone, Debug, PartialEq)]
pub struct CreeperPlant {
    /// Name in the library or site.
    pub name: String,
    /// Its numbers.
    pub params: CreeperParams,
}

/// A crop, by name.
#[derive(Clone, Debug, PartialEq)]
pub struct CropPlant {
    /// Name in the library or site.
    pub name: String,
    /// Botanical family, by which pests find their hosts.
    pub family: String,
    /// Whether the edible part touches the soil: the longer waiting period applies.
    pub touches_soil: bool,
    /// Its numbers.
    pub params: CropParams,
}

/// A canopy, by name.
#[derive(Clone, Debug, PartialEq)]
pub struct Canopy {
    /// Name in the library or site.
    pub name: String,
    /// Keeps its leaves all year.
    pub evergreen: bool,
    /// Its numbers.
    pub params: CanopyParams,
}

/// Which thermometer a pest's degree-days are read from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Thermometer {
    /// Air temperature in the shade.
    Air,
    /// Soil temperature at 5 cm, warmer where bare.
    Soil,
}

/// Where a pest feeds above ground.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Host {
    /// On the plot's trees, bushes or canes.
    Canopy,
    /// On crops of these families while they stand.
    Crops(Vec<String>),
}

impl Host {
    /// Whether it feeds on crops of this family.
    #[must_use]
    pub fn is_crop_of(&self, family: &str) -> bool {
        matches!(self, Self::Crops(families) if families.iter().any(|of| of == family))
    }
}

/// What a keeper counts a pest's degree-days by: the likely numbers, whatever a draw makes of them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KeepersCount {
    /// Lower threshold, C.
    pub base_temperature: f64,
    /// Upper threshold, C.
    pub upper_temperature: f64,
    /// First day, after the winter solstice.
    pub counting_from: f64,
    /// Last day, after the winter solstice.
    pub season_end: f64,
    /// Degree-days to half of spring emergence.
    pub emergence: f64,
}

impl KeepersCount {
    /// By these numbers.
    #[must_use]
    pub fn of(params: &PestParams) -> Self {
        Self {
            base_temperature: params.base_temperature,
            upper_temperature: params.upper_temperature,
            counting_from: params.counting_from,
            season_end: params.season_end,
            emergence: params.emergence,
        }
    }
}

/// A pest, by name.
#[derive(Clone, Debug, PartialEq)]
pub struct Pest {
    /// Name in the library or site.
    pub name: String,
    /// Thermometer of its degree-days.
    pub thermometer: Thermometer,
    /// What it feeds on.
    pub host: Host,
    /// Its numbers.
    pub params: PestParams,
    /// What a keeper knows of its dates.
    pub count: KeepersCount,
}

/// A slug or snail, by name.
#[derive(Clone, Debug, PartialEq)]
pub struct Slug {
    /// Name in the library or site.
    pub name: String,
    /// Its numbers.
    pub params: SlugParams,
}

/// A class of bird, by name.
#[derive(Clone, Debug, PartialEq)]
pub struct BirdClass {
    /// Name in the library or site.
    pub name: String,
    /// Its numbers.
    pub params: BirdParams,
}
