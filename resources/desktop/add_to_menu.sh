#!/bin/sh
# Puts Ductfolio into the menu of the desktop and opens job files with it, for this user only.
# "add_to_menu.sh --remove" takes it out again. Nothing else on the computer is changed.
set -eu
here=$(CDPATH= cd -- "$(dirname -- "$0")" && pwd)
data=${XDG_DATA_HOME:-"$HOME/.local/share"}
entry="$data/applications/ductfolio.desktop"
type="$data/mime/packages/ductfolio.xml"
icon="$data/icons/hicolor/scalable/apps/ductfolio.svg"
tell_the_desktop() {
  if command -v update-mime-database >/dev/null; then update-mime-database "$data/mime" || true; fi
  if command -v update-desktop-database >/dev/null; then
    update-desktop-database "$data/applications" || true
  fi
}
if [ "${1:-}" = "--remove" ]; then
  rm -f "$entry" "$type" "$icon"
  tell_the_desktop
  echo "Ductfolio is out of the menu. Its folder and your jobs are untouched."
  exit 0
fi
mkdir -p "$data/applications" "$data/mime/packages" "$(dirname "$icon")"
program=$(printf '%s' "$here/Ductfolio" | sed 's/[&|\\]/\\&/g')
sed "s|@PROGRAM@|\"$program\"|" "$here/desktop/ductfolio.desktop" >"$entry"
cp "$here/desktop/ductfolio.xml" "$type"
cp "$here/desktop/ductfolio.svg" "$icon"
tell_the_desktop
echo "Ductfolio is in the menu, and job files open with it."
