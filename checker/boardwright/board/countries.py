"""What comes out of the wall, country by country: volts, hertz and plug types.

Two open tables were laid side by side: ``residential_power`` of the Python package fluids 1.3.1, which names Wikipedia
(2017) as its source, and the list of world plugs that the IEC publishes, as copied in 2017 by an open repository. Where
they agree, the row ends in ``=``. Where they differ, both are kept at its end, the first table first, and the row itself is our
reading of the two. Where only the first was at hand, the end is empty, and nothing is cleared by such a row alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

FIRST, SECOND = "Wikipedia, by way of fluids (2017)", "IEC World Plugs, by way of a copy (2017)"

FAMILIES = ((100, 100), (110, 127), (220, 240))
"""Lowest and highest nominal voltage (V) of what counts as one and the same mains (after IEC 60038 and its forerunners)."""


def family(volts: float) -> tuple[float, float] | None:
    return next((each for each in FAMILIES if each[0] <= volts <= each[1]), None)


@dataclass(frozen=True, slots=True)
class Entry:
    """What one table says."""

    volts: tuple[float, ...]
    hertz: tuple[float, ...]
    plugs: str
    """Plug types by their letters (IEC TR 60083)."""

    def __str__(self) -> str:
        def joined(values: tuple[float, ...]) -> str:
            return "/".join(f"{value:g}" for value in values)

        return f"{joined(self.volts)} V {joined(self.hertz)} Hz, plugs {', '.join(self.plugs)}"


@dataclass(frozen=True, slots=True)
class Country:
    """A country's mains, and what the two tables say where they differ."""

    code: str
    name: str
    mains: Entry
    agreed: bool
    """Whether both tables say the same."""
    first: Entry | None = None
    second: Entry | None = None

    @property
    def disputed(self) -> bool:
        return not self.agreed and self.second is not None

    @property
    def one_source(self) -> bool:
        return not self.agreed and self.second is None

    @property
    def doubtful(self) -> tuple[float, ...]:
        """Voltages (V) of another family than ours, which one of the tables gives."""
        families = {family(volts) for volts in self.mains.volts}
        said = {volts for entry in (self.first, self.second) if entry for volts in entry.volts}
        return tuple(sorted(volts for volts in said if family(volts) not in families))


def country(code: str) -> Country | None:
    """The country of a two-letter code (ISO 3166-1), or ``None`` if it is not in the table."""
    return countries().get(code.upper())


@cache
def countries() -> dict[str, Country]:
    """All countries by their code."""
    return {row.code: row for row in map(_read, _TABLE.strip().splitlines())}


def _read(line: str) -> Country:
    code, name, volts, hertz, plugs, rest = line.split("|")
    first, _, second = rest.partition("; ")
    return Country(code, name, _entry(f"{volts} {hertz} {plugs}"), rest == "=", _said(first), _said(second))


def _said(words: str) -> Entry | None:
    return None if words in ("", "-", "=") else _entry(words)


def _entry(words: str) -> Entry:
    volts, hertz, plugs = words.split()
    return Entry(tuple(map(float, volts.split("/"))), tuple(map(float, hertz.split("/"))), plugs)


_TABLE = """
AD|Andorra|230|50|CF|
AE|United Arab Emirates|220|50|CDG|=
AF|Afghanistan|220|50|CF|
AG|Antigua and Barbuda|230|60|AB|
AI|Anguilla|110|60|A|
AL|Albania|230|50|CF|
AM|Armenia|230|50|CF|
AO|Angola|220|50|C|
AR|Argentina|220|50|CI|=
AT|Austria|230|50|CF|=
AU|Australia|230|50|I|=
AZ|Azerbaijan|230|50|CF|
BA|Bosnia and Herzegovina|230|50|CF|
BB|Barbados|115|50|AB|
BD|Bangladesh|220|50|CDGK|
BE|Belgium|230|50|CE|=
BF|Burkina Faso|220|50|CE|
BG|Bulgaria|230|50|CF|
BH|Bahrain|230|50|G|
BI|Burundi|220|50|CE|
BJ|Benin|220|50|CE|
BM|Bermuda|120|60|AB|
BN|Brunei|240|50|G|
BO|Bolivia|115|50|AC|
BR|Brazil|127/220|60|CN|220 60 CN; 127/220 60 CN
BS|Bahamas|120|60|AB|
BT|Bhutan|230|50|CDFGM|
BW|Botswana|230|50|DGM|
BY|Belarus|230|50|CF|
BZ|Belize|110|60|ABG|
CA|Canada|120|60|AB|=
CD|Congo, Democratic Republic of the|220|50|CDE|
CF|Central African Republic|220|50|CE|
CG|Congo, Republic of the|230|50|CE|
CH|Switzerland|230|50|CJ|=
CI|Côte d'Ivoire|230|50|CE|
CL|Chile|220|50|CL|220 50 L; 220 50 CL
CM|Cameroon|220|50|CE|
CN|China|220|50|ACI|=
CO|Colombia|110|60|AB|=
CR|Costa Rica|120|60|AB|
CU|Cuba|110|60|ABC|
CV|Cabo Verde|220|50|CF|
CY|Cyprus|240|50|G|=
CZ|Czech Republic|230|50|CE|=
DE|Germany|230|50|CF|=
DJ|Djibouti|220|50|CE|
DK|Denmark|230|50|CEFK|=
DM|Dominica|230|50|DG|
DO|Dominican Republic|110|60|AB|
DZ|Algeria|230|50|CF|
EC|Ecuador|120|60|AB|=
EE|Estonia|230|50|CF|
EG|Egypt|220|50|CF|=
ER|Eritrea|230|50|CL|
ES|Spain|230|50|CF|=
ET|Ethiopia|220|50|CEFL|
FI|Finland|230|50|CF|=
FJ|Fiji|240|50|I|
FK|Falkland Islands|240|50|G|
FM|Micronesia|120|60|AB|
FO|Faroe Islands|230|50|CEFK|
FR|France|230|50|CE|=
GA|Gabon|220|50|C|
GB|United Kingdom|230|50|G|=
GD|Grenada|230|50|G|
GG|Guernsey|230|50|G|
GH|Ghana|230|50|DG|
GI|Gibraltar|240|50|CG|
GM|Gambia|230|50|G|
GN|Guinea|220|50|CFK|
GQ|Equatorial Guinea|220|50|CE|
GR|Greece|230|50|CF|=
GT|Guatemala|120|60|AB|
GU|Guam|110|60|AB|
GW|Guinea-Bissau|220|50|C|
GY|Guyana|110|60|ABDG|
HK|Hong Kong|220|50|DG|-; 220 50 DG
HN|Honduras|110|60|AB|
HR|Croatia|230|50|CF|
HT|Haiti|110|60|AB|
HU|Hungary|230|50|CF|=
ID|Indonesia|220/230|50|CFG|230 50 CFG; 110/220 50 CF
IE|Ireland|230|50|G|=
IL|Israel|230|50|CHM|=
IM|Isle of Man|240|50|G|
IN|India|230|50|CDM|=
IQ|Iraq|230|50|CDG|
IR|Iran|220|50|CF|
IS|Iceland|230|50|CF|=
IT|Italy|230|50|CFL|=
JE|Jersey|230|50|G|
JM|Jamaica|110|50|AB|
JO|Jordan|230|50|BCDFGJ|
JP|Japan|100|50/60|AB|100 50 AB; 100 50/60 AB
KE|Kenya|240|50|G|=
KG|Kyrgyzstan|220|50|CF|
KH|Cambodia|230|50|ACG|
KM|Comoros|220|50|CE|
KN|St. Kitts and Nevis|110|60|ABDG|
KP|North Korea|110|60|ACF|
KR|South Korea|220|60|CF|=
KW|Kuwait|240|50|CG|
KY|Cayman Islands|120|60|AB|
KZ|Kazakhstan|220|50|CF|
LA|Laos|230|50|CEF|
LB|Lebanon|220|50|ABCDG|
LC|St. Lucia|240|50|G|
LI|Liechtenstein|230|50|CJ|
LK|Sri Lanka|230|50|DGM|
LR|Liberia|120|60|ABCEF|
LS|Lesotho|220|50|M|
LT|Lithuania|230|50|CF|
LU|Luxembourg|230|50|CF|
LV|Latvia|230|50|CF|
LY|Libya|127|50|CDFL|
MA|Morocco|220|50|CE|
MC|Monaco|230|50|CDEF|
MD|Moldova|220|50|CF|
ME|Montenegro|230|50|CF|
MG|Madagascar|220|50|CDEJK|
MK|North Macedonia|230|50|CF|
ML|Mali|220|50|CE|
MM|Myanmar|230|50|CDFG|
MN|Mongolia|220|50|CE|
MR|Mauritania|220|50|C|
MS|Montserrat|120|60|AB|
MU|Mauritius|230|50|CG|
MV|Maldives|230|50|DGJKL|
MW|Malawi|230|50|G|
MX|Mexico|127|60|AB|=
MY|Malaysia|230/240|50|ACGM|230 50 CGM; 240 50 ACGM
MZ|Mozambique|220|50|CFM|
NA|Namibia|220|50|DM|
NE|Niger|220|50|ABCDEF|
NG|Nigeria|230/240|50|DG|240 50 DG; 230 50 DG
NI|Nicaragua|120|60|AB|
NL|Netherlands|230|50|CF|=
NO|Norway|230|50|CF|=
NP|Nepal|230|50|CDM|
NR|Nauru|240|50|I|
NZ|New Zealand|230|50|I|=
OM|Oman|240|50|CG|
PA|Panama|120|60|AB|
PE|Peru|220|60|ABC|=
PG|Papua New Guinea|240|50|I|
PH|Philippines|220|60|ABC|220 60 AB; 220 60 ABC
PK|Pakistan|230|50|CDGM|=
PL|Poland|230|50|CE|=
PT|Portugal|230|50|CF|=
PW|Palau|120|60|AB|
PY|Paraguay|220|50|C|
QA|Qatar|240|50|DG|
RO|Romania|230|50|CF|=
RS|Serbia|230|50|CF|
RU|Russia|220/230|50|CF|230 50 CF; 220 50 CF
RW|Rwanda|230|50|CJ|
SA|Saudi Arabia|220/230|60|ABG|220 60 ABG; 220/230 60 G
SB|Solomon Islands|220|50|GI|
SC|Seychelles|240|50|G|
SD|Sudan|230|50|CD|
SE|Sweden|230|50|CF|=
SG|Singapore|230|50|CGM|=
SH|Saint Helena, Ascension and Tristan da Cunha|240|50|G|
SI|Slovenia|230|50|CF|
SK|Slovakia|230|50|CE|
SL|Sierra Leone|230|50|DG|
SM|San Marino|230|50|CFL|
SN|Senegal|230|50|CDEK|
SO|Somalia|220|50|C|
SR|Suriname|127|60|CF|
ST|São Tomé and Príncipe|220|50|CF|
SV|El Salvador|115|60|AB|
SY|Syria|220|50|CEL|
SZ|Eswatini|230|50|M|
TD|Chad|220|50|CDEF|
TG|Togo|220|50|C|
TH|Thailand|220|50|ABCF|=
TJ|Tajikistan|220|50|CFI|
TL|Timor-Leste|220|50|CEFI|
TM|Turkmenistan|220|50|BCF|
TN|Tunisia|230|50|CE|
TO|Tonga|240|50|I|
TR|Turkey|220/230|50|CF|230 50 CF; 220 50 CF
TT|Trinidad & Tobago|115|60|AB|
TV|Tuvalu|220|50|I|
TW|Taiwan|110|60|AB|=
TZ|Tanzania|230|50|DG|
UA|Ukraine|220/230|50|CF|230 50 CF; 220 50 CF
UG|Uganda|240|50|G|
US|United States|120|60|AB|=
UY|Uruguay|230|50|CFIL|
UZ|Uzbekistan|220|50|CI|
VC|St. Vincent and the Grenadines|230|50|CEGIK|
VE|Venezuela|120|60|AB|
VG|British Virgin Islands|110|60|AB|
VN|Vietnam|220|50|ACFG|220 50 ACG; 220 50 ACF
VU|Vanuatu|220|50|CGI|
WS|Samoa|230|50|I|
XK|Kosovo|230|50|CF|
YE|Yemen|230|50|ADG|
ZA|South Africa|230|50|CDFMN|230 50 CFMN; 230 50 CDMN
ZM|Zambia|230|50|CDG|
ZW|Zimbabwe|220|50|DG|
"""
