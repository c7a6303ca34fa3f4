//! Thousands of mutated drawings: SVG and DXF.

use petitoile_core::LengthUnit;
use petitoile_exchange::bring_in::{FoundDrawing, Limits, Watch};
use petitoile_exchange::sheet::{one_drawing, sheet};
use petitoile_exchange::{dxf, svg};

use super::changes::{check, storm};
use super::common::doll_jacket;
use super::{DXF, SVG, Watched};

const SVGS: [&str; 4] = [
    "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"200mm\" height=\"10cm\" viewBox=\"0 0 200 100\"><style>.a{stroke:red;stroke-dasharray:3 1}</style><g id=\"front\" transform=\"rotate(30 10 10) scale(1.5)\"><path class=\"a\" d=\"M10,10 C20 20,30 20 40 10 A5 8 30 0 1 50 10 L60 50 Z m1 1h5v5z\"/><text x=\"5\" y=\"9\" font-size=\"4\">Front cut 2</text></g></svg>",
    "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" viewBox=\"0 0 96 96\"><defs><g id=\"a\"><rect x=\"1\" y=\"2\" width=\"3\" height=\"4\" rx=\"1\" stroke=\"#123\"/></g><symbol id=\"b\" viewBox=\"0 0 4 4\"><circle cx=\"2\" cy=\"2\" r=\"1\" stroke=\"blue\"/><use xlink:href=\"#a\"/></symbol></defs><use xlink:href=\"#a\" x=\"5\"/><use xlink:href=\"#b\" width=\"20\" height=\"30\" transform=\"skewX(10)\"/></svg>",
    "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"4in\" height=\"3in\"><defs><marker id=\"m\" orient=\"auto\" markerWidth=\"3\" markerHeight=\"3\" refX=\"1\"><path d=\"M0 0L2 1L0 2z\"/></marker><linearGradient id=\"l\"/></defs><svg x=\"10%\" y=\"1cm\" width=\"50%\" height=\"5pc\" viewBox=\"0 0 8 8\" preserveAspectRatio=\"xMidYMax slice\"><polyline points=\"1,1 4,1 4,5 2 6\" stroke=\"url(#l) green\" marker-end=\"url(#m)\" marker-mid=\"url(#m)\"/></svg><ellipse cx=\"50\" cy=\"60\" rx=\"20\" ry=\"9\" style=\"stroke:black;fill:none;stroke-width:.3mm\"/></svg>",
    "<?xml version=\"1.0\"?><!DOCTYPE svg [<!ENTITY w \"30\">]><svg xmlns=\"http://www.w3.org/2000/svg\" width=\"100%\" height=\"&w;mm\"><g clip-path=\"url(#c)\" display=\"inline\"><title>Sleeve</title><line x1=\"1\" x2=\"&w;\" y2=\"5mm\" stroke=\"red\"/><text><tspan x=\"3 9 15\" dy=\"4\" rotate=\"20\">abc</tspan><textPath>d</textPath></text><image width=\"3\"/></g><switch><foreignObject/><polygon points=\"0 0 5 5 9 0\" stroke=\"red\"/></switch></svg>",
];

/// A DXF with blocks and entities.
fn file(blocks: &str, entities: &str) -> String {
    format!(
        "0\nSECTION\n2\nBLOCKS\n{blocks}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
    )
}

fn dxfs() -> Vec<Vec<u8>> {
    let small = file(
        "0\nBLOCK\n8\n1\n2\nFRONT\n10\n0\n20\n0\n0\nPOLYLINE\n8\n1\n70\n1\n0\nVERTEX\n8\n1\n10\n0\n20\n0\n42\n0.5\n0\nVERTEX\n8\n1\n10\n90\n20\n0\n0\nVERTEX\n8\n1\n10\n90\n20\n40\n0\nVERTEX\n8\n1\n10\n50\n20\n60\n0\nSEQEND\n0\nPOINT\n8\n2\n10\n0\n20\n0\n0\nPOINT\n8\n3\n10\n90\n20\n40\n0\nPOINT\n8\n3\n10\n50\n20\n60\n0\nTEXT\n8\n1\n10\n5\n20\n5\n40\n3\n50\n30\n1\nPIECE NAME: FRONT\n0\nENDBLK\n",
        "0\nINSERT\n8\n1\n2\nFRONT\n10\n0\n20\n0\n41\n1\n42\n1\n50\n15\n70\n2\n71\n3\n44\n100\n45\n80\n",
    );
    let shapes = file(
        "",
        "0\nSPLINE\n70\n8\n71\n3\n72\n8\n73\n4\n40\n0\n40\n0\n40\n0\n40\n0\n40\n1\n40\n1\n40\n1\n40\n1\n41\n1\n41\n5\n41\n0.3\n41\n1\n10\n0\n20\n0\n10\n10\n20\n30\n10\n30\n20\n-10\n10\n50\n20\n20\n0\nELLIPSE\n10\n3\n20\n4\n11\n20\n21\n10\n40\n0.4\n41\n0.7\n42\n4.1\n0\nARC\n10\n0\n20\n0\n40\n25\n50\n200\n51\n30\n210\n0\n220\n0\n230\n-1\n0\nLWPOLYLINE\n90\n3\n70\n1\n10\n0\n20\n0\n42\n1\n10\n20\n20\n0\n10\n20\n20\n20\n42\n0.1\n0\nMTEXT\n10\n20\n20\n30\n40\n6\n71\n5\n1\n{\\fArial|b0;Back}\\Pcut 1 \\H2x;on fold\n0\nSOLID\n10\n0\n20\n0\n11\n10\n21\n0\n12\n0\n22\n5\n13\n10\n23\n5\n0\nHATCH\n8\n0\n",
    );
    let tables = "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n1\n9\n$LTSCALE\n40\n2\n0\nENDSEC\n0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLTYPE\n0\nLTYPE\n2\nFOLD\n73\n2\n40\n4.5\n49\n3\n49\n-1.5\n0\nENDTAB\n0\nTABLE\n2\nLAYER\n0\nLAYER\n2\nseam\n70\n0\n62\n130\n6\nFOLD\n0\nENDTAB\n0\nENDSEC\n".to_owned()
        + &file("", "0\nLINE\n8\nseam\n10\n0\n20\n0\n11\n3\n21\n4\n0\nCIRCLE\n8\nseam\n62\n3\n6\nBYLAYER\n10\n1\n20\n1\n40\n2\n48\n3\n");
    let pieces = dxf::piece::pieces(&doll_jacket(), LengthUnit::Millimetre);
    let garment = dxf::write::write("jacket", "M", &pieces);
    let mut files = [small, shapes, tables, garment]
        .map(String::into_bytes)
        .to_vec();
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/samples/dxf/");
    let samples = ["r12.dxf", "r2000_mm.dxf", "r2010_inches.dxf"];
    files.extend(samples.map(|name| std::fs::read(format!("{folder}{name}")).unwrap()));
    files
}

fn read_svg(bytes: &[u8], limits: &Limits) -> Option<FoundDrawing> {
    svg::read::read(bytes, "a", limits, &Watch::default()).ok()
}

fn read_dxf(bytes: &[u8], limits: &Limits) -> Option<FoundDrawing> {
    dxf::read::read(bytes, "a", limits, &Watch::default()).ok()
}

#[test]
fn mutated_svg_goes_the_whole_way_or_is_refused() {
    let mut watched = Watched::new("SVG");
    let limits = Limits::default();
    let mut files: Vec<Vec<u8>> = SVGS.map(|text| text.as_bytes().to_vec()).to_vec();
    let garment = one_drawing(&sheet(&doll_jacket(), LengthUnit::Millimetre));
    files.push(svg::write(&garment).into_bytes());
    for file in &files {
        check(&read_svg(file, &limits).unwrap(), &limits);
    }
    let (taken, refused) = storm(&mut watched, 1912, SVG, &files, read_svg);
    assert!(
        500 < taken && 500 < refused,
        "{taken} read, {refused} refused"
    );
    watched.ends(SVG);
}

#[test]
fn mutated_dxf_goes_the_whole_way_or_is_refused() {
    let mut watched = Watched::new("DXF");
    let limits = Limits::default();
    let files = dxfs();
    for file in &files {
        check(&read_dxf(file, &limits).unwrap(), &limits);
    }
    let (taken, refused) = storm(&mut watched, 1913, DXF, &files, read_dxf);
    assert!(
        500 < taken && 200 < refused,
        "{taken} read, {refused} refused"
    );
    watched.ends(DXF);
}
