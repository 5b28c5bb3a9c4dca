//! The nouns of the trade and what makes each of them valid.
