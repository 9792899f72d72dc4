#!/bin/sh
# Sets the sheets of this folder anew. Needs pdflatex (TeX Live) and soffice (LibreOffice Writer); no test runs this.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"
export SOURCE_DATE_EPOCH=1741000000 FORCE_SOURCE_DATE=1
for name in article symbols long lists; do
	pdflatex -interaction=nonstopmode "$here/$name.tex"
	pdflatex -interaction=nonstopmode "$here/$name.tex"
done
# Without its map of outline fonts pdflatex sets bitmaps that say nothing of Unicode.
pdflatex -interaction=nonstopmode -jobname=bitmaps "\\pdfmapfile{}\\input{$here/symbols.tex}"
soffice "-env:UserInstallation=file://$work/profile" --headless --infilter="HTML (StarWriter)" --convert-to pdf:writer_pdf_Export "$here/merged.html"
soffice "-env:UserInstallation=file://$work/profile" --headless --convert-to pdf:writer_pdf_Export "$here/landscape.fodt"
cp ./*.pdf "$here"
