// Gives back the words of the pack's model that every part of the engine shares. Twin of
// generator/pack/model.py.
//
// The pack itself is the JSON document that generator/pack/document.py writes, read as it is: arrays of
// records, field names in snake_case.

export const VERDICTS = ["unsuitable", "open", "caution", "suitable"]; // from bad to good: a place is a rank
export const NOT_APPLICABLE = "not_applicable";
export const MEDIUM = "medium", CONCENTRATION = "concentration"; // the inputs that each component has its own of
export const MIXED_WITH = "mixed_with"; // the input that further components are typed into
