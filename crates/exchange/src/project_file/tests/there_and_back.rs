//! What was written reads back as it was.

use super::*;

#[test]
fn a_project_reads_back_as_it_was() {
    let project = project();
    let text = write(&project).unwrap();
    assert_eq!(read(text.as_bytes()).unwrap(), project);
    assert_eq!(
        write(&read(text.as_bytes()).unwrap()).unwrap(),
        text,
        "written again, it is the same text"
    );
}

#[test]
fn a_stash_and_a_wardrobe_read_back_as_they_were() {
    assert_eq!(
        read_stash(write_stash(&stash()).unwrap().as_bytes()).unwrap(),
        stash()
    );
    let wardrobe = Wardrobe {
        dolls: vec![body()],
        outfits: vec![WardrobeOutfit {
            doll: "45 cm play doll".into(),
            project_file: "harbour.petitoile".into(),
            outfit: Outfit {
                name: "Sunday".into(),
                layers: vec![],
                pads: Vec::new(),
            },
        }],
    };
    assert_eq!(
        read_wardrobe(write_wardrobe(&wardrobe).unwrap().as_bytes()).unwrap(),
        wardrobe
    );
}

#[test]
fn every_figure_reads_back_to_the_last_bit() {
    // Worst cases of decimal printing: halfway values, subnormals, the ends of the range, negative zero.
    let mut figures = vec![
        0.0,
        -0.0,
        0.1,
        1.0 / 3.0,
        5e-324,
        f64::MIN_POSITIVE,
        f64::MAX,
        f64::MIN,
        9007199254740993.0,
        1e23,
        6.35,
    ];
    let mut chance = Chance(7);
    figures.extend(
        std::iter::repeat_with(|| f64::from_bits(chance.next()))
            .filter(|f| f.is_finite())
            .take(2_000),
    );
    for figure in figures {
        let mut stash = stash();
        stash.offcuts[0].margin = Mm(figure);
        let back = read_stash(write_stash(&stash).unwrap().as_bytes()).unwrap();
        assert_eq!(
            back.offcuts[0].margin.0.to_bits(),
            figure.to_bits(),
            "{figure:e}"
        );
    }
}

#[test]
fn the_points_of_a_line_stand_on_one_line_of_the_file() {
    let text = write(&project()).unwrap();
    assert!(text.starts_with("// Petitoile project: lengths in mm, x right, y up.\n(\n    petitoile: 1,\n    project: (\n"), "{text}");
    let line = text
        .lines()
        .find(|l| l.contains("line: [(60.0, 90.0)"))
        .expect("the top edge");
    assert!(line.trim_end().ends_with("(0.0, 90.0)],"), "{line}");
}

#[test]
fn a_mark_in_front_of_the_text_is_skipped() {
    let text = format!("\u{feff}{}", write(&project()).unwrap());
    assert_eq!(read(text.as_bytes()).unwrap(), project());
}

#[test]
fn a_copied_piece_reads_back_as_it_was_and_nothing_else_passes_for_one() {
    let text = write_piece(&piece()).unwrap();
    assert_eq!(read_piece(text.as_bytes()), Ok(piece()));
    assert!(matches!(
        read_piece(write(&project()).unwrap().as_bytes()),
        Err(ProjectFileError::OtherKind { .. })
    ));
    assert!(read_piece(b"a shopping list").is_err());
    let torn = text.get(..text.len() / 2).unwrap();
    assert!(read_piece(torn.as_bytes()).is_err());
}

#[test]
fn a_fitting_as_worn_with_its_pads_reads_back_and_an_older_file_has_none() {
    let mut project = project();
    let mut fitting = petitoile_core::fitting::Fitting::clone(&project.fittings[0]);
    assert!(
        !write(&project).unwrap().contains("as_worn"),
        "nothing is written for none"
    );
    fitting.as_worn = Some(petitoile_core::fitting::AsWorn {
        outfit: "Sunday".into(),
        stacks: [(petitoile_core::measure::Measure::WaistGirth, Mm(1.0 / 3.0))].into(),
    });
    project.fittings[0] = Arc::new(fitting);
    assert_eq!(read(write(&project).unwrap().as_bytes()).unwrap(), project);
}
