#!/usr/bin/env bash
# How the files beside this script were made (LibreOffice 7.4, Chromium, pandoc, AbiWord, poppler, pypdf; Debian 12):
# every one by another program than the caller, from the invented sheets that are text here (slate-yard.fodt,
# columns.fodt and the .html files). Run it in a copy of this folder.
set -euo pipefail

for kind in docx odt rtf doc pdf html:HTML; do soffice --headless --convert-to "$kind" slate-yard.fodt; done
for kind in docx pdf; do soffice --headless --convert-to "$kind" columns.fodt; done

browser() { chromium --headless --disable-gpu "${@:3}" --print-to-pdf="$PWD/$2" "file://$1"; }
mkdir -p /sheets
cp tidal-gate.html two-columns.html sideways.html /sheets/
browser /sheets/tidal-gate.html tidal-gate.pdf # with the browser's own page head and foot
browser /sheets/two-columns.html two-columns.pdf --no-pdf-header-footer
browser /sheets/sideways.html sideways.pdf --no-pdf-header-footer

# apple-crate.html has the sheet of that name of tests/corpus, each section's steps in a table.
pandoc -s -f html -t rtf -o apple-crate.rtf apple-crate.html
soffice --headless --infilter="HTML (StarWriter)" --convert-to docx apple-crate.html
abiword --to=pdf -o apple-crate.pdf apple-crate.docx

# attic-trunk.html is made in the same way, with "font-family: serif" (DejaVu Serif, which has ligatures).
soffice --headless --infilter="HTML (StarWriter)" --convert-to pdf attic-trunk.html

# A scan: a page as a picture, printed.
pdftoppm -r 50 -gray -png -singlefile slate-yard.pdf /sheets/scan
echo '<html><body style="margin:0"><img src="scan.png" style="width:100%"></body></html>' > /sheets/scan.html
browser /sheets/scan.html scan.pdf --no-pdf-header-footer

python - <<'PYTHON'
from pypdf import PdfReader, PdfWriter

turned = PdfWriter()
for page in PdfReader("slate-yard.pdf").pages:
    turned.add_page(page).rotate(90)
turned.write("turned.pdf")
locked = PdfWriter(clone_from="sideways.pdf")
locked.encrypt("class", algorithm="AES-256")
locked.write("locked.pdf")
PYTHON
