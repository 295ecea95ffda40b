package page

// savedCase is what the page calls the case file that it writes.
const savedCase = "case.toml"
