package form

// reading is what the figures of the report come to.
const reading = "## Reading it\n"
