//! Files made to burst: forms that call one another, packed nothing, pages without end.

use super::*;

/// A PDF of these objects, numbered from 1; object 1 is the catalog.
fn pdf(objects: &[String]) -> Vec<u8> {
    let mut bytes = b"%PDF-1.7\n".to_vec();
    let mut places = Vec::new();
    for (number, object) in (1..).zip(objects) {
        places.push(bytes.len());
        bytes.extend(format!("{number} 0 obj\n{object}\nendobj\n").bytes());
    }
    let table = bytes.len();
    bytes.extend(format!("xref\n0 {}\n0000000000 65535 f \n", objects.len() + 1).bytes());
    for place in places {
        bytes.extend(format!("{place:010} 00000 n \n").bytes());
    }
    let size = objects.len() + 1;
    bytes.extend(
        format!("trailer\n<< /Size {size} /Root 1 0 R >>\nstartxref\n{table}\n%%EOF\n").bytes(),
    );
    bytes
}

fn stream(entries: &str, content: &str) -> String {
    format!(
        "<< {entries} /Length {} >>\nstream\n{content}\nendstream",
        content.len()
    )
}

const CATALOG: &str = "<< /Type /Catalog /Pages 2 0 R >>";
const PAGES: &str = "<< /Type /Pages /Kids [3 0 R] /Count 1 >>";

fn page(resources: &str) -> String {
    format!(
        "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 600 800] /Contents 4 0 R /Resources << {resources} >> >>"
    )
}

fn one_page(entries: &str, resources: &str, content: &str, more: Vec<String>) -> Vec<u8> {
    let mut objects = vec![CATALOG.to_owned(), PAGES.to_owned(), page(resources)];
    objects.push(stream(entries, content));
    objects.extend(more);
    pdf(&objects)
}

fn refused(bytes: &[u8], words: &str) {
    let error = bring_in(bytes, "bomb.pdf").expect_err("refused");
    assert!(matches!(error, BringInError::Limit { .. }), "{error}");
    assert!(error.to_string().contains(words), "{error}");
}

#[test]
fn forms_that_each_draw_the_next_one_twice_are_refused() {
    let levels = 40;
    let forms = (0..levels).map(|level| {
        let next = 5 + level + 1;
        let (resources, content) = if level + 1 < levels {
            (format!("/XObject << /F {next} 0 R >>"), "/F Do /F Do")
        } else {
            (String::new(), "0 0 m 9 9 l S")
        };
        stream(
            &format!(
                "/Type /XObject /Subtype /Form /BBox [0 0 600 800] /Resources << {resources} >>"
            ),
            content,
        )
    });
    let bytes = one_page("", "/XObject << /F 5 0 R >>", "/F Do", forms.collect());
    refused(&bytes, "bytes of drawing");
}

#[test]
fn forms_that_draw_one_another_in_a_ring_come_to_an_end() {
    let form = |other: u32| {
        let resources = format!("/Resources << /XObject << /F {other} 0 R >> >>");
        let entries = format!("/Type /XObject /Subtype /Form /BBox [0 0 9 9] {resources}");
        stream(&entries, "/F Do /F Do 0 0 m 9 9 l S")
    };
    for forms in [
        vec![form(5)],
        vec![form(6), form(5)],
        vec![form(6), form(7), form(5)],
    ] {
        let bytes = one_page("", "/XObject << /F 5 0 R >>", "/F Do", forms);
        match bring_in(&bytes, "ring.pdf") {
            // The reading crate does not follow a form into itself.
            Ok(found) => assert!(found.sheets[0].lines.len() <= 100),
            Err(error) => assert!(
                matches!(
                    error,
                    BringInError::Limit { .. } | BringInError::Empty { .. }
                ),
                "{error}"
            ),
        }
    }
}

#[test]
fn many_lines_in_a_form_drawn_often_end_at_the_drawn_elements() {
    let content = "0 0 m 9 9 l S ".repeat(2_000);
    let form = stream(
        "/Type /XObject /Subtype /Form /BBox [0 0 600 800]",
        &content,
    );
    let bytes = one_page(
        "",
        "/XObject << /F 5 0 R >>",
        &"/F Do ".repeat(1_000),
        vec![form],
    );
    refused(&bytes, "drawn elements");
}

/// Blanks packed (RFC 1950, 1951) without ever holding them: one block of the fixed code, a blank and then again and
/// again "the same 258 times".
fn packed(bytes: usize) -> Vec<u8> {
    let mut out = vec![0x78, 0x9c];
    let (mut held, mut count) = (0_u64, 0_u32);
    let mut put = |bits: u64, width: u32, out: &mut Vec<u8>| {
        held |= bits << count;
        count += width;
        while count >= 8 {
            out.push(held as u8);
            held >>= 8;
            count -= 8;
        }
    };
    let reversed = |code: u64, width: u32| code.reverse_bits() >> (64 - width);
    put(1, 1, &mut out); // the last block
    put(1, 2, &mut out); // of the fixed code
    put(reversed(0x30 + 32, 8), 8, &mut out);
    for _ in 0..bytes / 258 {
        put(reversed(0xc5, 8), 8, &mut out); // code 285: length 258
        put(0, 5, &mut out); // distance 1
    }
    put(0, 7, &mut out); // end of block
    put(0, 7, &mut out); // fill the last byte
    out.extend([0; 4]);
    out
}

#[test]
fn a_small_file_that_unpacks_to_hundreds_of_megabytes_is_refused_before_it_is_unpacked() {
    let zeros = packed(400 << 20);
    assert!(zeros.len() < 4 << 20);
    let mut bytes = pdf(&[CATALOG.to_owned(), PAGES.to_owned(), page("")]);
    bytes.extend(
        format!(
            "4 0 obj\n<< /Filter /FlateDecode /Length {} >>\nstream\n",
            zeros.len()
        )
        .bytes(),
    );
    bytes.extend(&zeros);
    bytes.extend(b"\nendstream\nendobj\n");
    refused(&bytes, "unpacked bytes");
}

#[test]
fn a_million_pages_in_a_row_are_refused() {
    let kids = "<<>> ".repeat(1_000_000);
    let bytes = pdf(&[
        CATALOG.to_owned(),
        format!("<< /Type /Pages /Kids [{kids}] /Count 1000000 >>"),
    ]);
    refused(&bytes, "dictionaries");
    let kids = "<< /Type /Page >> ".repeat(500);
    let bytes = pdf(&[
        CATALOG.to_owned(),
        format!("<< /Type /Pages /Kids [{kids}] /Count 500 >>"),
    ]);
    refused(&bytes, "400 pages");
}

#[test]
fn a_count_of_a_million_pages_that_are_not_there_is_only_a_word() {
    let bytes = pdf(&[
        CATALOG.to_owned(),
        "<< /Type /Pages /Kids [3 0 R 2 0 R 3 0 R] /Count 1000000 >>".to_owned(),
        page(""),
        stream("", "0 0 m 9 9 l S"),
    ]);
    assert_eq!(bring_in(&bytes, "sheet.pdf").unwrap().sheets.len(), 1);
}

#[test]
fn places_and_boxes_beyond_reason_are_told_and_not_drawn() {
    let bytes = one_page(
        "",
        "",
        "10 10 m 50 50 l S q 99999999999999999999999999999999999999999999 0 0 1 0 0 cm 1 1 m 2 2 l S Q \
         q 0 0 0 0 0 0 cm 0 0 m 5 5 l S Q",
        vec![],
    );
    let found = bring_in(&bytes, "sheet.pdf").unwrap();
    assert!(
        found
            .left
            .iter()
            .any(|left| left.what.contains("places that cannot be")),
        "{:?}",
        found.left
    );
    assert!(
        found.sheets[0]
            .lines
            .iter()
            .all(|line| line.path.is_finite())
    );
    let giant = page("").replace("600 800", "99999999999999999999 800");
    let bytes = pdf(&[
        CATALOG.to_owned(),
        PAGES.to_owned(),
        giant,
        stream("", "0 0 m 9 9 l S"),
    ]);
    let error = bring_in(&bytes, "sheet.pdf").unwrap_err();
    assert!(matches!(error, BringInError::Broken { .. }), "{error}");
}

#[test]
fn deep_nesting_of_states_and_lists_is_survived() {
    let bytes = one_page(
        "",
        "",
        &format!("{} 0 0 m 90 90 l S", "q ".repeat(300_000)),
        vec![],
    );
    assert_eq!(
        bring_in(&bytes, "sheet.pdf").unwrap().sheets[0].lines.len(),
        1
    );
    let bytes = one_page(
        "",
        "",
        &format!("{} 0 0 m 90 90 l S", "[".repeat(300_000)),
        vec![],
    );
    let _ = bring_in(&bytes, "sheet.pdf");
    let bytes = pdf(&[
        CATALOG.to_owned(),
        PAGES.to_owned(),
        page(&"<< /A ".repeat(100_000)),
    ]);
    let _ = bring_in(&bytes, "sheet.pdf");
}
