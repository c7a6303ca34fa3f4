//! Words of the trade on sheets, in the languages that are read: English, German, French, Italian, Spanish, Dutch.
//!
//! All in small letters, parted by strokes. From memory, no source; a word that is missing costs a guess, never a piece.
//! Never here: what follows from a word.

/// Says that a piece is cut so often: the verb, as it stands before or behind the number.
pub(super) const CUT: &str = "\
    cut|make|zuschneiden|schneiden|zuschnitt|couper|coupez|tailler|taillez|tagliare|tagliate|\
    ritagliare|cortar|cortad|recortar|knippen|knip|uitknippen|knipt";

/// "times" behind a number.
pub(super) const TIMES: &str = "x|×|times|mal|fois|volte|volta|veces|vez|keer|maal|stück";

/// Two of a kind, one the mirror of the other.
pub(super) const PAIR: &str = "pair|pairs|paar|paare|paire|paires|paio|paia|par|pares|paren";

/// Cloth that shows.
pub(super) const SHELL: &str = "\
    shell|main|self|outer|fabric|oberstoff|stoff|außenstoff|aussenstoff|tissu|extérieur|tessuto|esterno|\
    stoffa|tela|tejido|exterior|stof|buitenstof|hoofdstof";

/// Lining.
pub(super) const LINING: &str =
    "lining|futter|futterstoff|doublure|fodera|forro|voering|voeringstof";

/// Interlining.
pub(super) const INTERLINING: &str = "\
    interlining|interfacing|fusible|einlage|bügeleinlage|entoilage|thermocollant|interfodera|teletta|\
    entretela|tussenvoering|plakvoering";

/// Left.
pub(super) const LEFT: &str = "left|links|linke|gauche|sinistra|izquierda|izquierdo";

/// Right.
pub(super) const RIGHT: &str = "right|rechts|rechte|droite|droit|destra|destro|derecha|derecho";

/// Words between number, cloth and fold that say nothing by themselves.
pub(super) const LITTLE: &str = "\
    quantity|of|from|in|and|on|the|fold|each|mirrored|pieces|im|am|an|den|dem|aus|und|je|bruch|\
    stoffbruch|teile|teil|gegengleich|spiegelverkehrt|doppelt|au|sur|le|la|du|de|dans|et|pli|pliure|\
    pièces|pièce|symétrique|sulla|sul|nel|di|e|piega|ripiegatura|pezzi|pezzo|al|en|el|sobre|y|doblez|\
    piezas|pieza|aan|op|uit|stofvouw|vouw|delen";

/// Numbers as words. The articles ("ein", "une") count only right behind the verb.
pub(super) const NUMBERS: [(&str, usize, bool); 30] = [
    ("one", 1, false),
    ("two", 2, false),
    ("three", 3, false),
    ("four", 4, false),
    ("eins", 1, false),
    ("einmal", 1, false),
    ("zwei", 2, false),
    ("zweimal", 2, false),
    ("drei", 3, false),
    ("dreimal", 3, false),
    ("vier", 4, false),
    ("viermal", 4, false),
    ("deux", 2, false),
    ("trois", 3, false),
    ("quatre", 4, false),
    ("due", 2, false),
    ("tre", 3, false),
    ("quattro", 4, false),
    ("dos", 2, false),
    ("tres", 3, false),
    ("cuatro", 4, false),
    ("twee", 2, false),
    ("drie", 3, false),
    ("\u{e9}\u{e9}n", 1, false),
    ("ein", 1, true),
    ("een", 1, true),
    ("un", 1, true),
    ("une", 1, true),
    ("una", 1, true),
    ("uno", 1, true),
];

/// A word that says "fold of the cloth" wherever it stands.
pub(super) const FOLD_OF_CLOTH: &str = "stoffbruch|stofvouw|ripiegatura|doblez|pliure";

/// The fold of the cloth, behind one of [`ON`] or nearly alone.
pub(super) const FOLD: &str = "fold|bruch|vouw";

/// A fold or a pleat: the fold of the cloth only behind one of [`ON`].
pub(super) const FOLD_OR_PLEAT: &str = "pli|piega";

/// What stands before a fold of the cloth, an article between them allowed.
pub(super) const ON: &str = "on|im|am|in|an|au|sur|sulla|sul|alla|aan|op|tegen|al|sobre";

/// Articles.
pub(super) const ARTICLES: &str = "the|den|dem|le|la|el|de|der|il";

/// A line, not the fold of the cloth ("fold line", "línea de doblez").
pub(super) const LINE: &str = "line|up|linie|ligne|linea|línea|lijn|hacia";

/// An allowance.
pub(super) const ALLOWANCE: &str = "\
    allowance|nahtzugabe|marge de couture|marges de couture|di cucitura|de costura|naadtoeslag|\
    naadwaarde|marges comprises";

/// It is not drawn in.
pub(super) const WITHOUT: &str = "\
    no seam|no allowance|without|not included|not include|add |excluding|excluded|ohne|nicht enthalten|\
    nicht inbegriffen|zugeben|hinzufügen|sans |non compris|non inclus|ajouter|senza|aggiungere|sin |\
    non compres|no incluid|añadir|zonder|niet inbegrepen|\
    niet inclusief|nicht inkl|exkl|exclusief";

/// It is drawn in.
pub(super) const WITH: &str = "\
    included|includes|including|with seam|enthalten|inbegriffen|inklusive|inkl|mit nahtzugabe|compris|\
    inclus|incluso|incluid|incluye|inclusief|inbegrepen|con margen|avec marge|\
    compres";

/// "3 of 8".
pub(super) const OF: &str = "of|von|sur|di|de|van|/";

/// Stands before the number of a piece.
pub(super) const PIECE: &str = "\
    piece|no|pattern|nr|teil|schnittteil|pièce|n°|pezzo|pieza|deel|patroondeel|num|part";

/// Stands before a size.
pub(super) const SIZE: &str = "size|sizes|größe|grösse|größen|taille|taglia|talla|maat";

/// A page.
pub(super) const PAGE: &str = "\
    page|sheet|p|seite|blatt|feuille|pagina|foglio|página|hoja|blad|bladzijde|tile|folha";

/// A row of pages.
pub(super) const ROW: &str = "row|r|reihe|zeile|rangée|riga|fila|rij";

/// A column of pages.
pub(super) const COLUMN: &str = "column|col|c|spalte|colonne|colonna|columna|kolom";

/// Words that stand beside lines and are no name of a piece.
pub(super) const LINE_WORDS: &str = "\
    grain|grainline|fold|allowance|allowances|test|scale|print|printed|page|notch|size|sizes|line|\
    lengthen|shorten|here|cm|mm|inch|inches|seam|stitch|sew|gather|ease|place|placement|match|copyright|\
    cloth|fabric|pleat|tuck|leave|slit|level|fadenlauf|bruch|stoffbruch|nahtzugabe|nahtzugaben|\
    testquadrat|kontrollquadrat|maßstab|seite|größe|grösse|linie|verlängern|kürzen|hier|naht|einhalten|\
    einreihen|kräuseln|anstoßen|falte|stoff|passzeichen|ausdrucken|fil|pli|pliure|marge|marges|\
    couture|carré|contrôle|échelle|ligne|allonger|raccourcir|ici|fronces|froncer|embu|tissu|repère|\
    drittofilo|filo|piega|ripiegatura|margine|margini|cucitura|quadrato|prova|scala|linea|allungare|\
    accorciare|qui|arricciare|tessuto|pagina|hilo|doblez|margen|márgenes|costura|cuadrado|prueba|escala|\
    línea|alargar|acortar|aquí|fruncir|tela|página|talla|draadrichting|stofvouw|vouw|naadtoeslag|\
    proefvierkant|schaal|lijn|verlengen|inkorten|rimpelen";

/// Words of a single line that names a line of the body, not a piece.
pub(super) const BODY_WORDS: &str = "\
    cf|cb|centre|center|waist|waistline|bust|hip|hipline|hem|side|front edge|centre front|center front|\
    centre back|center back|bust point|apex|shoulder|knee|vordere mitte|hintere mitte|vm|hm|hüfte|brust|\
    saum|seitennaht|milieu devant|milieu dos|taille|hanches|ourlet|poitrine|centro davanti|\
    centro dietro|vita|fianchi|orlo|centro delantero|centro espalda|cintura|cadera|dobladillo|\
    midden voor|midden achter|zoom";

/// The words of one of the lists.
pub(super) fn words(list: &str) -> impl Iterator<Item = &str> {
    list.split('|')
}

/// Is a word in one of the lists?
pub(super) fn is(list: &str, word: &str) -> bool {
    !word.is_empty() && words(list).any(|w| w == word)
}

/// Do words hold one of a list, in small letters, anywhere?
pub(super) fn holds(list: &str, lower: &str) -> bool {
    words(list).any(|w| lower.contains(w))
}
