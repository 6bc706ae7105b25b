#!/bin/sh
# Makes the record's two faces: Noto Sans with Latin, Greek and Cyrillic, its marks, and from its sister faces the
# few arrows and signs that notes use. Without ccmp, which takes letters apart that a reader then finds no more.
# Needs fonttools; takes the sources' places and writes beside itself:
#   npm pack @expo-google-fonts/noto-sans@0.4.2      (Noto Sans 2.015; unpacked: $1)
#   apt-get install fonts-noto-core                  (NotoSansMath, NotoSansSymbols2 in $2)
set -e
sans=$1 more=${2:-/usr/share/fonts/truetype/noto}
out=$(cd "$(dirname "$0")" && pwd)
tmp=$(mktemp -d)
text=U+0020-007E,U+00A0-024F,U+0259,U+02B0-02FF,U+0300-036F,U+0370-03FF,U+0400-052F,U+1E00-1FFF,U+2000-200A
text=$text,U+2010-2015,U+2018-2022,U+2026,U+202F,U+2030-203A,U+2044,U+2070-209F,U+20A0-20BF,U+2103,U+2109
text=$text,U+2113,U+2116,U+2122,U+2126,U+215B-215E,U+2212,U+2215,U+2219,U+221E,U+25CC,U+FFFD
math=U+2190-2195,U+21D2,U+2206,U+2211,U+221A,U+2220,U+222B,U+2245,U+2248,U+2260,U+2261,U+2264,U+2265,U+226A,U+226B,U+22C5
signs=U+2713,U+2717,U+26A0
pyftsubset "$more/NotoSansMath-Regular.ttf" --unicodes=$math --layout-features= --no-hinting \
  --drop-tables+=MATH,GSUB,GPOS,GDEF --output-file="$tmp/math.ttf"
pyftsubset "$more/NotoSansSymbols2-Regular.ttf" --unicodes=$signs --layout-features= --no-hinting \
  --drop-tables+=GSUB,GPOS,GDEF --output-file="$tmp/signs.ttf"
for pair in Regular:400Regular/NotoSans_400Regular Bold:700Bold/NotoSans_700Bold; do
  name=${pair%%:*}
  pyftsubset "$sans/${pair#*:}.ttf" --unicodes=$text --layout-features=kern,mark,mkmk --no-hinting \
    --name-IDs=0,1,2,3,4,5,6,13,14 --notdef-outline --drop-tables+=STAT,gasp,prep --output-file="$tmp/$name.ttf"
  pyftmerge --output-file="$out/NotoSans-$name.ttf" "$tmp/$name.ttf" "$tmp/math.ttf" "$tmp/signs.ttf"
  # The lines' height is the text face's own, not that of the highest sign.
  python3 - "$tmp/$name.ttf" "$out/NotoSans-$name.ttf" <<'END'
import sys
from fontTools.ttLib import TTFont
text, made = TTFont(sys.argv[1]), TTFont(sys.argv[2])
for field in ('ascent', 'descent', 'lineGap'):
    setattr(made['hhea'], field, getattr(text['hhea'], field))
for field in ('sTypoAscender', 'sTypoDescender', 'sTypoLineGap', 'usWinAscent', 'usWinDescent'):
    setattr(made['OS/2'], field, getattr(text['OS/2'], field))
made.save(sys.argv[2])
END
done
sed "s/ *$//" "$sans/LICENSE_FONT" > "$out/OFL.txt"
rm -r "$tmp"
