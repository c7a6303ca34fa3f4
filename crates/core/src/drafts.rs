//! Published drafts as formulas: garments drafted from body measures.
