//! Workbooks that general-purpose libraries wrote (openpyxl 3.1, odfpy 1.4), and broken ones.

use std::collections::BTreeMap;

use sheets::{Sheet, read};

const XLSX: &[u8] = include_bytes!("sheets/plan.xlsx");
const ODS: &[u8] = include_bytes!("sheets/plan.ods");

#[test]
fn an_xlsx_gives_the_first_sheet_with_a_list() {
    let sheet = read(XLSX, None).expect("a sheet");
    let expect = Sheet {
        names: vec!["Notes".to_owned(), "Plan 2031".to_owned()],
        nth: 1,
        first_row: 2,
        csv: "\"Withy Corner, planted\",,,,,,\n\
              ,,,,,,\n\
              Row,Place,Tag,Cross,Planted on,x (m),Remark\n\
              1,1,WC-1,Marl × TR-9,2031-06-14,0,\n\
              1,2,WC-2,Marl × TR-9,2031-06-14,0.75,\"leaning;\nstaked, \"\"twice\"\"\"\n\
              1,3,,,,1.5,yes\n\
              ,,,,,,\n\
              2,1,12,Sedge × ?,14.06.2031,\"0,75\",\n\
              Total,4,,,,,\n"
            .to_owned(),
    };
    assert_eq!(sheet, expect);
    let notes = read(XLSX, Some(0)).expect("a sheet");
    assert_eq!((notes.nth, notes.first_row), (0, 1));
    assert_eq!(notes.csv, "\"Nothing to see here, this is an invented plan\"\n");
    assert_eq!(read(XLSX, Some(2)).expect_err("none").found, "no such sheet");
}

#[test]
fn an_ods_keeps_numbers_and_days_as_they_are_and_not_as_they_are_shown() {
    let sheet = read(ODS, None).expect("a sheet");
    assert_eq!((sheet.names, sheet.first_row), (vec!["Bäume".to_owned()], 1));
    assert_eq!(
        sheet.csv,
        "Reihe,Platz,Etikett,Gepflanzt,Zustand\n1,1,Ö-1,2031-06-14,lebt\n1,2,,,Lücke\n\
         1,3,Ö-3,2031-06-14,\n"
    );
}

#[test]
fn what_is_no_workbook_is_refused_with_words() {
    let check = |bytes: &[u8], expect: &str| {
        let told = read(bytes, None).expect_err("no workbook").to_string();
        assert!(told.contains(expect), "{told}");
    };
    check(b"row,place\n1,1\n", "no sound archive");
    check(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "an old workbook (xls), or one with a password");
    check(&XLSX[..XLSX.len() / 2], "no sound archive");
    let zip = |name: &str, text: &[u8]| {
        files::pack(&BTreeMap::from([(name.to_owned(), text.to_vec())]), "")
    };
    check(&zip("a.txt", b"no workbook"), "no sound workbook");
    check(&zip("content.xml", b"<broken"), "no sound workbook");
    let mut torn = ODS.to_vec();
    let middle = torn.len() / 3;
    torn[middle..middle + 40].fill(0);
    assert!(read(&torn, None).is_err());
}

#[test]
fn a_workbook_that_unpacks_to_too_much_is_refused() {
    let bomb = files::pack(
        &BTreeMap::from([(
            "content.xml".to_owned(),
            vec![b' '; (sheets::MOST_BYTES + 1) as usize],
        )]),
        "",
    );
    assert!(bomb.len() < 1 << 20, "{} bytes", bomb.len());
    let told = read(&bomb, None).expect_err("too much").to_string();
    assert!(told.contains("unpacks to at most 128 MiB"), "{told}");
}

#[test]
fn a_cell_far_off_is_refused_and_not_made_room_for() {
    let sheet = r#"<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="1"><c r="A1"><v>1</v></c></row><row r="1048576"><c r="XFD1048576"><v>2</v></c></row></sheetData></worksheet>"#;
    let book = r#"<?xml version="1.0"?><workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="far" sheetId="1" r:id="rId1"/></sheets></workbook>"#;
    let relations = r#"<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>"#;
    let top = r#"<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>"#;
    let files = BTreeMap::from([
        ("_rels/.rels".to_owned(), top.as_bytes().to_vec()),
        ("xl/workbook.xml".to_owned(), book.as_bytes().to_vec()),
        ("xl/_rels/workbook.xml.rels".to_owned(), relations.as_bytes().to_vec()),
        ("xl/worksheets/sheet1.xml".to_owned(), sheet.as_bytes().to_vec()),
    ]);
    let told = read(&files::pack(&files, ""), None).expect_err("too far").to_string();
    assert!(told.contains("a cell in row 1048576, column 16384"), "{told}");
}
