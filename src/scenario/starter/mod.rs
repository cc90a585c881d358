//! Files to begin with, commented and ready to run; everything in them is invented.

/// What a region usually has: its key, the hay of the starter, and the gin trash.
const REGIONS: [(&str, &str, &str); 4] = [
    ("rolling_plains", "prairie_hay", "gin_trash_stripper"),
    ("high_plains", "sorghum_sudan_hay", "gin_trash_stripper"),
    ("mid_south", "bermuda_hay_mature", "gin_trash_picker"),
    ("southeast", "bermuda_hay_mature", "gin_trash_picker"),
];

/// Keys of the regions there is a starter for; the first is the usual one.
#[must_use]
pub fn regions() -> [&'static str; 4] {
    REGIONS.map(|(key, ..)| key)
}

/// A gin file for a region and the harvest of a year; `file` is its name, for the command in its remarks. `None`: no such
/// region.
#[must_use]
pub fn gin(region: &str, year: i16, file: &str) -> Option<String> {
    let (_, _, trash) = REGIONS.into_iter().find(|(key, ..)| *key == region)?;
    let harvest = if trash == "gin_trash_picker" { "picker" } else { "stripper_with_field_cleaner" };
    let text = include_str!("gin.yaml").replace("{harvest}", harvest);
    Some(filled(&text, region, year, if file == "-" { "gin.yaml" } else { file }))
}

/// A herd file for a region and the winter that begins in a year; `file` is its name, for the commands in its remarks.
/// `None`: no such region.
#[must_use]
pub fn herd(region: &str, year: i16, file: &str) -> Option<String> {
    let (_, hay, trash) = REGIONS.into_iter().find(|(key, ..)| *key == region)?;
    let text = include_str!("herd.yaml").replace("{hay}", hay).replace("{trash}", trash);
    Some(filled(&text, region, year, if file == "-" { "herd.yaml" } else { file }))
}

fn filled(text: &str, region: &str, year: i16, file: &str) -> String {
    text.replace("{region}", region)
        .replace("{first}", &year.to_string())
        .replace("{second}", &(year + 1).to_string())
        // A name with a line break in it would end the remark.
        .replace("{file}", &file.replace(char::is_control, " "))
}
