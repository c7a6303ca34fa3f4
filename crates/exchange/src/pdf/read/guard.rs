//! What must be known of a file before foreign crates unpack and draw it, since they know no limits.
//!
//! All limits are our own, far above any printed sheet that was seen; no source.

use std::collections::BTreeMap;

use hayro_syntax::Pdf;
use hayro_syntax::content::TypedIter;
use hayro_syntax::content::ops::TypedInstruction;
use hayro_syntax::object::{Array, Dict, Name, Object, ObjectIdentifier, Stream};
use hayro_syntax::page::Resources;
use miniz_oxide::inflate::TINFLStatus;
use miniz_oxide::inflate::core::inflate_flags::TINFL_FLAG_PARSE_ZLIB_HEADER;
use miniz_oxide::inflate::core::{DecompressorOxide, decompress};

use super::Ask;
use crate::bring_in::BringInError;

/// Unpacked bytes of everything but pictures.
const UNPACKED: u64 = 192 << 20;

/// Unpacked bytes of one stream: forms inside of forms are unpacked together.
const ONE: u64 = 64 << 20;

/// Dictionaries in a file: every one may become a page of its own.
const DICTIONARIES: u64 = 500_000;

/// Bytes that are gone through to draw, each form counted as often as it is drawn.
const DRAWN: u64 = 256 << 20;

/// What calling a form costs besides its own bytes.
const CALL: u64 = 200;

/// How far before a stream its dictionary is looked for.
const REACH: usize = 2048;

/// Refuses a file whose streams unpack to more than can be held, or that holds too many dictionaries.
pub(super) fn packed(bytes: &[u8], ask: &Ask<'_>) -> Result<(), BringInError> {
    let word = b"stream";
    let (mut sum, mut dictionaries, mut at) = (0_u64, 0_u64, 0_usize);
    let mut last = 0_u8;
    while let Some(byte) = bytes.get(at) {
        if *byte == b'<' && last == b'<' {
            dictionaries += 1;
        } else if *byte == b's'
            && bytes.get(at..).is_some_and(|rest| rest.starts_with(word))
            && !bytes
                .get(..at)
                .is_some_and(|before| before.ends_with(b"end"))
        {
            let before = bytes.get(at.saturating_sub(REACH)..at).unwrap_or_default();
            let data = bytes.get(at + word.len()..).unwrap_or_default();
            let size = measured(before, data, ask)?;
            sum += size.bytes;
            dictionaries += size.dictionaries;
            if UNPACKED < sum {
                return Err(ask.limit(UNPACKED, "unpacked bytes"));
            }
            at += word.len();
        }
        if DICTIONARIES < dictionaries {
            return Err(ask.limit(DICTIONARIES, "dictionaries"));
        }
        last = *byte;
        at += 1;
    }
    Ok(())
}

/// What a stream unpacks to.
#[derive(Default)]
struct Size {
    bytes: u64,
    dictionaries: u64,
}

fn measured(before: &[u8], data: &[u8], ask: &Ask<'_>) -> Result<Size, BringInError> {
    let start = before.windows(3).rposition(|at| at == b"obj").unwrap_or(0);
    let dictionary = before.get(start..).unwrap_or_default();
    let count = |word: &[u8]| {
        dictionary
            .windows(word.len())
            .filter(|at| *at == word)
            .count()
    };
    // Pictures are never unpacked here.
    if is_picture(dictionary) {
        return Ok(Size::default());
    }
    let (flate, lzw) = (count(b"/FlateDecode") + count(b"/Fl "), count(b"/LZW"));
    if flate + lzw > 1 {
        return Err(BringInError::NotRead {
            file: ask.name.to_owned(),
            what: "a PDF with parts that are packed twice".to_owned(),
            remedy: "print it to a new PDF and bring that in".to_owned(),
        });
    }
    let data = match data {
        [b'\r', b'\n', rest @ ..] | [b'\n' | b'\r', rest @ ..] => rest,
        rest => rest,
    };
    let plain;
    let data = if count(b"/ASCII85Decode") + count(b"/A85") > 0 {
        plain = from_85(data);
        &plain
    } else if count(b"/ASCIIHexDecode") + count(b"/AHx") > 0 {
        plain = from_hex(data);
        &plain
    } else {
        data
    };
    let size = if lzw > 0 {
        Size {
            bytes: lzw_size(data),
            dictionaries: 0,
        }
    } else {
        inflated(data, count(b"/ObjStm") > 0)
    };
    if ONE < size.bytes {
        return Err(ask.limit(ONE, "unpacked bytes in one part"));
    }
    Ok(size)
}

fn is_picture(dictionary: &[u8]) -> bool {
    let key = b"/Subtype";
    let at = dictionary.windows(key.len()).position(|at| at == key);
    at.and_then(|at| dictionary.get(at + key.len()..))
        .is_some_and(|rest| rest.trim_ascii_start().starts_with(b"/Image"))
}

/// How many bytes a Flate stream holds, counted up to just over [`ONE`]; 0 when it is none.
fn inflated(data: &[u8], with_dictionaries: bool) -> Size {
    const WINDOW: usize = 1 << 15;
    let mut state = Box::<DecompressorOxide>::default();
    let mut window = vec![0; WINDOW];
    let (mut from, mut at) = (0, 0);
    let mut size = Size::default();
    loop {
        let input = data.get(from..).unwrap_or_default();
        let (status, read, written) = decompress(
            &mut state,
            input,
            &mut window,
            at,
            TINFL_FLAG_PARSE_ZLIB_HEADER,
        );
        if with_dictionaries {
            let fresh = window.get(at..at + written).unwrap_or_default();
            size.dictionaries += fresh.windows(2).filter(|pair| pair == b"<<").count() as u64;
        }
        size.bytes += written as u64;
        from += read;
        at = (at + written) % WINDOW;
        if ONE < size.bytes || status != TINFLStatus::HasMoreOutput || read + written == 0 {
            return size;
        }
    }
}

/// How many bytes an LZW stream holds, counted up to just over [`ONE`]; only the lengths of the entries are kept.
fn lzw_size(data: &[u8]) -> u64 {
    const CLEAR: usize = 256;
    const END: usize = 257;
    let (mut lengths, mut last): (Vec<u64>, Option<u64>) = (Vec::new(), None);
    let (mut bits, mut held, mut sum) = (0_u32, 0_u32, 0_u64);
    for byte in data {
        bits = (bits << 8) | u32::from(*byte);
        held += 8;
        // Codes grow one entry early unless the file asks otherwise; for the size that hardly matters.
        let width = match lengths.len() + 259 {
            ..=511 => 9,
            512..=1023 => 10,
            1024..=2047 => 11,
            _ => 12,
        };
        if held < width {
            continue;
        }
        held -= width;
        let code = ((bits >> held) & ((1 << width) - 1)) as usize;
        let length = match code {
            CLEAR => {
                lengths.clear();
                last = None;
                continue;
            }
            END => break,
            0..CLEAR => 1,
            _ => match (lengths.get(code - 258), last) {
                (Some(length), _) => *length,
                (None, Some(last)) => last + 1,
                (None, None) => break,
            },
        };
        if let Some(last) = last.filter(|_| lengths.len() < 4096 - 258) {
            lengths.push(last + 1);
        }
        last = Some(length);
        sum += length;
        if ONE < sum {
            break;
        }
    }
    sum
}

/// ASCII85 (ISO 32000-1, 7.4.3) up to its end mark.
fn from_85(data: &[u8]) -> Vec<u8> {
    let mut plain = Vec::new();
    let (mut group, mut count) = (0_u32, 0_usize);
    for byte in data {
        match byte {
            b'z' if count == 0 => plain.extend([0; 4]),
            b'!'..=b'u' => {
                group = group.wrapping_mul(85).wrapping_add(u32::from(byte - b'!'));
                count += 1;
                if count == 5 {
                    plain.extend(group.to_be_bytes());
                    (group, count) = (0, 0);
                }
            }
            b'~' => break,
            _ => {}
        }
    }
    if count > 1 {
        for _ in count..5 {
            group = group.wrapping_mul(85).wrapping_add(84);
        }
        plain.extend(group.to_be_bytes().iter().take(count - 1));
    }
    plain
}

/// Hexadecimal digits up to their end mark.
fn from_hex(data: &[u8]) -> Vec<u8> {
    let digits: Vec<u8> = data
        .iter()
        .take_while(|byte| **byte != b'>')
        .filter_map(|byte| char::from(*byte).to_digit(16))
        .map(|digit| digit as u8)
        .collect();
    digits
        .chunks(2)
        .map(|pair| pair.iter().fold(0, |sum, digit| (sum << 4) | digit))
        .collect()
}

/// Refuses a file that would draw for ever: forms that call themselves, or one another again and again.
pub(super) fn work(pdf: &Pdf, ask: &Ask<'_>) -> Result<(), BringInError> {
    let mut forms = Forms {
        ask,
        known: BTreeMap::new(),
        open: Vec::new(),
    };
    let mut sum = 0_u64;
    for page in pdf.pages().iter() {
        let resources = page.resources();
        let content = page.page_stream().unwrap_or_default();
        sum = sum.saturating_add(forms.of_content(content, resources)?);
        let notes = page.raw().get::<Array<'_>>(b"Annots".as_ref());
        for note in notes.iter().flat_map(Array::iter::<Dict<'_>>) {
            if let Some(form) = appearance(&note) {
                sum = sum.saturating_add(forms.of_form(&form, resources)?);
            }
        }
        if DRAWN < sum {
            return Err(ask.limit(DRAWN, "bytes of drawing"));
        }
        ask.watch.at(0.0, ask.name)?;
    }
    Ok(())
}

fn appearance<'a>(note: &Dict<'a>) -> Option<Stream<'a>> {
    match note
        .get::<Dict<'_>>(b"AP".as_ref())?
        .get::<Object<'_>>(b"N".as_ref())?
    {
        Object::Stream(stream) => Some(stream),
        Object::Dict(states) => {
            let state = note.get::<Name<'_>>(b"AS".as_ref())?;
            states.get::<Stream<'_>>(state)
        }
        _ => None,
    }
}

/// What each form costs, forms within it included.
struct Forms<'r> {
    ask: &'r Ask<'r>,
    known: BTreeMap<ObjectIdentifier, u64>,
    open: Vec<ObjectIdentifier>,
}

impl Forms<'_> {
    fn of_content(
        &mut self,
        content: &[u8],
        resources: &Resources<'_>,
    ) -> Result<u64, BringInError> {
        let mut sum = content.len() as u64;
        let calls_any = content.windows(2).any(|at| at == b"Do");
        let mut instructions = TypedIter::new(if calls_any { content } else { &[] });
        while let Some(instruction) = instructions.next() {
            if let TypedInstruction::XObject(call) = instruction
                && let Some(form) = resources.get_x_object(call.0)
            {
                sum = sum.saturating_add(self.of_form(&form, resources)?);
            }
        }
        Ok(sum)
    }

    fn of_form(&mut self, form: &Stream<'_>, around: &Resources<'_>) -> Result<u64, BringInError> {
        let kind = form.dict().get::<Name<'_>>(b"Subtype".as_ref());
        if kind.is_none_or(|kind| kind.as_ref() != b"Form") {
            return Ok(CALL);
        }
        let id = form.obj_id();
        if let Some(cost) = self.known.get(&id) {
            return Ok(*cost);
        }
        if self.open.contains(&id) || self.ask.limits.nesting <= self.open.len() as u64 {
            return Err(self.ask.limit(self.ask.limits.nesting, "levels of nesting"));
        }
        let Ok(content) = form.decoded_data() else {
            return Ok(CALL);
        };
        let own = form
            .dict()
            .get::<Dict<'_>>(b"Resources".as_ref())
            .map(Resources::new);
        self.open.push(id);
        let cost = self.of_content(&content, own.as_ref().unwrap_or(around));
        self.open.pop();
        let cost = cost?.saturating_add(CALL);
        self.known.insert(id, cost);
        Ok(cost)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packed_letters_are_unpacked_as_the_standard_shows() {
        // ISO 32000-1, 7.4.4.2, example: 45 45 45 45 45 65 45 45 45 66.
        let packed = [0x80, 0x0b, 0x60, 0x50, 0x22, 0x0c, 0x0c, 0x85, 0x01];
        assert_eq!(lzw_size(&packed), 10);
        assert_eq!(from_85(b"87cURD]i,\"Ebo80~>"), b"Hello World!");
        assert_eq!(from_hex(b"48 65 6C6c 6f>00"), b"Hello");
    }

    #[test]
    fn a_code_that_repeats_itself_grows_without_being_unpacked() {
        // Every code names the entry that is only then made: lengths 1, 2, 3 and so on.
        let mut bits: Vec<bool> = Vec::new();
        let mut put = |code: usize, width: usize| {
            bits.extend((0..width).rev().map(|bit| code >> bit & 1 == 1));
        };
        put(256, 9);
        put(65, 9);
        for entry in 258..500 {
            put(entry, 9);
        }
        put(257, 9);
        let bytes: Vec<u8> = bits
            .chunks(8)
            .map(|byte| {
                let sum = byte
                    .iter()
                    .fold(0_u8, |sum, bit| (sum << 1) | u8::from(*bit));
                sum << (8 - byte.len())
            })
            .collect();
        assert_eq!(lzw_size(&bytes), (1..=243).sum::<u64>());
    }
}
