"""Gives back the codes of everything that an answer or an application can get wrong.

Twin of browser/engine/faults.js.
"""

WRONG_SHAPE = "A001"                 # not a mapping of states to answers, or an answer that is not a text
UNKNOWN_STATE = "A002"
UNKNOWN_INPUT = "A003"
NORMAL_MISSING = "A004"
SHARED_INPUT = "A005"                # an input of the whole application, answered outside normal
NOTHING_TO_COPY = "A006"             # `same` in normal itself
NOT_A_NUMBER = "A007"
DECIMAL_COMMA = "A008"
THOUSANDS = "A009"
LEADING_ZERO = "A010"
TOO_MANY_DIGITS = "A011"
MISSING_UNIT = "A012"
UNKNOWN_UNIT = "A013"
REFUSED_UNIT = "A014"
OTHER_QUANTITY = "A015"
OUTSIDE_RANGE = "A016"
WRONG_WAY_ROUND = "A017"
UNKNOWN_CHOICE = "A018"
UNCLEAR_CHOICE = "A019"
NOT_ALLOWED = "A020"                 # `not applicable` where the input always applies
YES_OR_NO = "A021"
NO_NAME = "A022"                     # an application file without id or title
UNKNOWN_PIN = "A023"                 # a pinned candidate, or its decision, that the guide does not have
WRONG_MIXTURE = "A024"               # a component without a name, or too many of them
CONCESSION = "A031"                  # a concession that lacks something, or names what the guide does not have
