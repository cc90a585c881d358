//! Prices that can be moved in the page: sliders over answers found and proved beforehand. Without a script the tables
//! say the same.

use super::blocks::blocks;
use super::shell::{Names, spaced};
use super::worth::picture;
use crate::report::worth::{LiveFeed, price, sections, stop_words};
use maud::{Markup, PreEscaped, html};
use serde_json::json;

/// The section.
pub(super) fn section(feeds: &[LiveFeed], names: &Names) -> Markup {
    html! {
        section id="what-if" aria-labelledby="what-if-heading" {
            h2 id="what-if-heading" { "What if a price changes" }
            p {
                "One price moves at a time; all others stay as they are in the herd file. Every answer was found and proved \
                 beforehand, at least cost in part loads, not made steadier."
            }
            @for (index, feed) in feeds.iter().enumerate() { (one(feed, index, names)) }
            script type="application/json" id="live-data" { (PreEscaped(data(feeds, names))) }
        }
    }
}

fn one(feed: &LiveFeed, index: usize, names: &Names) -> Markup {
    let report = &feed.report;
    let name = spaced(&report.feed);
    let page = sections(report, "", false);
    let steps = page.get("steps").map(|section| section.blocks.clone()).unwrap_or_default();
    let prices: Vec<f64> = feed.stops.iter().map(|stop| stop.usd_per_ton).collect();
    html! {
        h3 { bdi { (name) } }
        (picture(report, index, false, &prices))
        fieldset.live {
            legend { "Price of " bdi { (name) } ", $ a ton delivered" }
            input type="range" id=(format!("price-{index}")) min="0" max=(feed.stops.len() - 1) step="1" value=(feed.now)
                aria-label=(format!("Price of {name}, $ a ton delivered")) data-feed=(index) data-picture=(format!("steps-{index}"));
            output for=(format!("price-{index}")) aria-live="polite" {
                (feed.stops.get(feed.now).map_or(String::new(), |stop| names.plain_text(&stop_words(report, stop))))
            }
            button type="button" { "Back to the price now" }
        }
        (blocks(&steps, names))
    }
}

/// What the stops say, with nothing in it that could end the element it stands in.
fn data(feeds: &[LiveFeed], names: &Names) -> String {
    let stops = |feed: &LiveFeed| -> Vec<serde_json::Value> {
        let words = |stop| names.plain_text(&stop_words(&feed.report, stop));
        feed.stops.iter().map(|stop| json!({"price": price(stop.usd_per_ton), "words": words(stop)})).collect()
    };
    let all: Vec<_> = feeds.iter().map(stops).collect();
    json!(all).to_string().replace('<', "\\u003c").replace('>', "\\u003e").replace('&', "\\u0026")
}
