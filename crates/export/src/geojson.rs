//! GeoJSON (RFC 7946): a point for each tree or graft, with its columns and latest scores.

use files::Book;
use language::say;
use plot::{Globe, Origin, Problem, Refusal, Spot, Weight};
use serde_json::{Map, Value, json};

use crate::columns::as_json;
use crate::scored::Names;
use crate::{one_a_line, sheets};

/// A feature collection with one feature a line, in the order of `trees.csv`.
///
/// Coordinates are degrees of longitude and latitude (WGS 84) with seven decimals, so within 8 mm
/// of where the tree stands. Properties are the columns of `trees.csv`, empty cells null, and for
/// each trait its latest score with `_on` the day or moment of it; null where there is none.
///
/// # Errors
/// A plot without `origin`.
pub fn geojson(book: &Book) -> Result<Vec<u8>, Vec<Problem>> {
    let plot = book.plot();
    let Some(origin) = plot.head().origin else { return Err(vec![no_origin()]) };
    let (sheet, trees) = sheets::trees(book);
    let mut names = Names::taken(sheet.columns.iter().map(|(name, ..)| name.as_str()));
    let names: Vec<[String; 2]> = plot
        .head()
        .traits
        .iter()
        .map(|one| [names.free(one.id.to_string()), names.free(format!("{}_on", one.id))])
        .collect();
    let features = trees.into_iter().map(|(tree, row)| {
        let cells = sheet.columns.iter().zip(&sheet.rows[row]);
        let mut properties: Map<String, Value> =
            cells.map(|((name, kind, _), cell)| (name.clone(), as_json(*kind, cell))).collect();
        for ([value, on], score) in names.iter().zip(plot.latest_scores(tree)) {
            properties.insert(value.clone(), score.and_then(|score| score.value).into());
            let day = score.map(|score| score.scored_on.to_string());
            properties.insert(on.clone(), day.into());
        }
        let tree = plot.tree(tree);
        json!({
            "type": "Feature",
            "id": tree.id().as_str(),
            "geometry": point(&origin, tree.spot()),
            "properties": properties,
        })
    });
    let name = Value::from(plot.head().name.as_str());
    let before = format!("{{\"type\":\"FeatureCollection\",\"name\":{name},\"features\":");
    Ok(one_a_line::list(&before, features, |_| "}\n".to_owned()))
}

/// A spot as a geometry.
pub(crate) fn point(origin: &Origin, spot: Spot) -> Value {
    json!({"type": "Point", "coordinates": lon_lat(origin, spot).map(seven_decimals)})
}

/// Longitude in [-180, 180) and latitude of a spot, degrees: a plot across the antimeridian goes
/// on at -180.
pub fn lon_lat(origin: &Origin, spot: Spot) -> [f64; 2] {
    let Globe { lon, lat } = origin.globe_from_plot(spot);
    [(lon + 180.0).rem_euclid(360.0) - 180.0, lat]
}

fn seven_decimals(degrees: f64) -> f64 {
    (degrees * 1e7).round() / 1e7
}

fn no_origin() -> Problem {
    let expected = say!(
        "where the plot lies on earth, such as {{\"lon\": 5.12, \"lat\": 52.04, \
         \"row_bearing_deg\": 12}}: degrees (WGS 84) of its local (0, 0), and the true bearing in \
         which place numbers rise"
    );
    Refusal::new("origin", say!("nothing"), expected).at(Weight::Fault, "plot.json", None)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{book, head, lantern};

    fn read(book: &Book) -> Value {
        serde_json::from_slice(&geojson(book).expect("an origin")).expect("JSON")
    }

    #[test]
    fn positions_come_back_within_millimetres() {
        let book = lantern();
        let plot = book.plot();
        let origin = plot.head().origin.expect("an origin");
        let collection = read(&book);
        let features = collection["features"].as_array().expect("features");
        assert_eq!(features.len(), plot.trees().len());
        for feature in features {
            let tree = plot.tree_ix(feature["id"].as_str().expect("an id")).expect("a tree");
            let degrees = |nth: usize| feature["geometry"]["coordinates"][nth].as_f64();
            let globe = Globe { lon: degrees(0).expect("lon"), lat: degrees(1).expect("lat") };
            let off = origin.plot_from_globe(globe).distance_m(plot.tree(tree).spot());
            assert!(off < 0.008, "{tree:?}: {off} m");
        }
    }

    #[test]
    fn columns_of_ones_own_and_the_latest_standing_score_are_there() {
        let trees = "colour,tree_id,row,place,scab_leaf,tag,girth\n\
            red,A,1,1,mine,007,12.5\n,G,,,,,\n,B,1,2,,\"say \"\"hi\"\"\",3\n";
        let trees = trees.replace("colour,", "colour,grafted_on,").replace("red,", "red,,");
        let trees = trees.replace(",G,", ",B,G,").replace(",B,1", ",,B,1");
        let scores = "score_id,tree_id,trait,value,scored_on,replaces\n\
            s1,A,scab_leaf,1,2031-06-14T10:00:00+02:00,\n\
            s2,A,scab_leaf,0,2031-06-14,\n\
            s3,A,bloom,1,2030-05-01,\ns4,A,bloom,0,2031-05-01,\n\
            s5,A,bloom,,2031-05-02,s4\n\
            s6,B,scab_leaf,1,2031-06-14,\ns7,B,scab_leaf,,2031-07-01,\n";
        let collection = read(&book(head(true), &trees, scores));
        let [a, g, b] = &collection["features"].as_array().expect("features")[..] else {
            panic!("three trees, in the order of the file")
        };
        assert_eq!([&a["id"], &g["id"], &b["id"]], ["A", "G", "B"]);
        assert_eq!(g["geometry"], b["geometry"], "a graft stands where its carrier stands");
        let of = &a["properties"];
        assert_eq!(of["colour"], "red");
        assert_eq!(of["tag"], "007", "a name, not a number");
        assert_eq!((&of["row"], &of["girth"]), (&json!(1), &json!(12.5)));
        assert_eq!(of["scab_leaf"], "mine", "the column keeps its name");
        assert_eq!(of["scab_leaf 2"], 1.0, "the later of the day");
        assert_eq!(of["scab_leaf_on"], "2031-06-14T10:00:00+02:00");
        assert_eq!((&of["bloom"], &of["bloom_on"]), (&json!(1.0), &json!("2030-05-01")));
        assert_eq!(b["properties"]["scab_leaf 2"], 1.0, "could not be scored is no score");
        assert_eq!(g["properties"]["scab_leaf 2"], Value::Null);
        assert_eq!(g["properties"]["row"], Value::Null);
    }

    #[test]
    fn without_origin_it_is_said_how_to_give_one() {
        let problems = geojson(&book(head(false), "tree_id,row,place\nA,1,1\n", ""));
        let said = problems.expect_err("no origin")[0].to_string();
        assert!(
            said.starts_with(
                "plot.json, column origin: found nothing, expected where the plot lies"
            ),
            "{said}"
        );
        assert!(said.contains("\"row_bearing_deg\": 12}"), "{said}");
    }

    #[test]
    fn a_plot_across_the_antimeridian_stays_in_range() {
        let head = head(true).replace("-20.0", "179.9999999");
        let collection = read(&book(head, "tree_id,x_m,y_m\nA,0,0\nB,0,-50\n", ""));
        let lon = |nth: usize| {
            collection["features"][nth]["geometry"]["coordinates"][0].as_f64().expect("lon")
        };
        assert!(lon(0) > 179.0 && lon(1) < -179.0, "{} {}", lon(0), lon(1));
    }
}
