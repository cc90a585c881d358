//! Needs against published tables, and properties that must hold for every animal.
#![allow(missing_docs)]

use jiff::civil::date;
use overwinter::herd::{AnimalClass, Coat, Group, Hide, Period, Place, Sex};
use overwinter::need::{mean_needs, needs_in_month};
use overwinter::quantity::{kg_from_lb, lb_from_kg};

fn cow(weight_lb: f64, peak_milk_lb: f64) -> Group {
    Group {
        name: "cows".into(),
        class: AnimalClass::Cow,
        sex: Sex::Female,
        head: 1,
        weight_kg: kg_from_lb(weight_lb),
        mature_weight_kg: kg_from_lb(weight_lb),
        condition: 5.0,
        condition_wanted: None,
        calving: Some(date(2027, 3, 1)),
        peak_milk_kg: kg_from_lb(peak_milk_lb),
        milk_composition_pct: (4.0, 8.3, 3.4),
        weaning_days: 210.0,
        calf_birth_weight_kg: 37.0,
        breed_factor: 1.0,
        gain_kg_per_day: None,
        weight_wanted_kg: None,
        under_a_year: false,
        turnout: None,
        activity_share: 0.0,
        coat: Coat::Dry,
        hide: Hide::Average,
        limit_fed: false,
        water_sulfur_g: 0.0,
        base_intake_pct: None,
    }
}

#[test]
fn smoke() {
    let c = cow(1200.0, 20.0);
    for m in 1..=12 {
        let n = needs_in_month(&c, m);
        let dm = n.dmi_kg * 10.0;
        println!(
            "{m} dmi {:.2} tdn {:.2} cp {:.2} ca {:.3} p {:.3} nem/lb {:.4} nem {:.3} cp lb {:.3}",
            lb_from_kg(n.dmi_kg),
            n.tdn_pct,
            n.cp_g / dm,
            n.ca.total_g() / dm,
            n.p.total_g() / dm,
            n.nem_mcal_per_kg / 2.2046,
            n.energy.total_nem_mcal(),
            n.cp_g / 453.59
        );
    }
    let p = Period { label: "x".into(), from: date(2026, 12, 1), to: date(2027, 1, 1) };
    println!("{:#?}", mean_needs(&c, &p, &Place::default(), date(2026, 11, 15), None));
}
