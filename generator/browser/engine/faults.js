// Gives back the codes of everything that an answer or an application can get wrong.
// Twin of generator/answers/faults.py.

export const WRONG_SHAPE = "A001"; // not a mapping of states to answers, or an answer that is not a text
export const UNKNOWN_STATE = "A002";
export const UNKNOWN_INPUT = "A003";
export const NORMAL_MISSING = "A004";
export const SHARED_INPUT = "A005"; // an input of the whole application, answered outside normal
export const NOTHING_TO_COPY = "A006"; // `same` in normal itself
export const NOT_A_NUMBER = "A007";
export const DECIMAL_COMMA = "A008";
export const THOUSANDS = "A009";
export const LEADING_ZERO = "A010";
export const TOO_MANY_DIGITS = "A011";
export const MISSING_UNIT = "A012";
export const UNKNOWN_UNIT = "A013";
export const REFUSED_UNIT = "A014";
export const OTHER_QUANTITY = "A015";
export const OUTSIDE_RANGE = "A016";
export const WRONG_WAY_ROUND = "A017";
export const UNKNOWN_CHOICE = "A018";
export const UNCLEAR_CHOICE = "A019";
export const NOT_ALLOWED = "A020"; // `not applicable` where the input always applies
export const YES_OR_NO = "A021";
export const NO_NAME = "A022"; // an application file without id or title
export const UNKNOWN_PIN = "A023"; // a pinned candidate, or its decision, that the guide does not have
export const WRONG_MIXTURE = "A024"; // a component without a name, or too many of them
export const CONCESSION = "A031"; // a concession that lacks something, or names what the guide does not have
