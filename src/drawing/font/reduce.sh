#!/usr/bin/env bash
# Makes the reduced face from DejaVuSansCondensed.ttf 2.37 with pyftsubset of fontTools 4.68.
set -euo pipefail
cd "$(dirname "$0")"
pyftsubset "$1" --output-file=DejaVuSansCondensed-reduced.ttf \
    --unicodes="20-7e,a0-24f,2b0-2ff,300-36f,370-52f,1e00-1fff,2000-206f,2070-209f,20a0-20bf,2100-214f,2190-21ff,2200-22ff,25a0-25ff,2610-2612" \
    --layout-features='' --no-hinting --notdef-outline --name-IDs='*' \
    --drop-tables+=GSUB,GPOS,GDEF,kern,FFTM --no-recalc-timestamp
