"""A drink that exists, and what follows from it: assessment, method, card, guest notice.

`variation` says what a drink is on a busy night. It draws some thousands of it by a Latin
hypercube: what is poured, by the tool's error (`[hand_errors]` in `pantry/practice.toml`), the
figures of what is pressed anew each day (`[fresh]`), and the melt within the technique's spread;
all evenly from their ranges, each evaluated exactly. What would steady it is the same question with
one of them held.

`guest_notice` puts together what a guest is told: what is poured (`pantry/disclosure`), the glass,
garnish, and the way a drink is made.
"""
