# What a test needs beyond the program: read this file with `.`, then `need TOOL...`.
# A tool that is not there ends the test with one sentence that names its Debian package. `make check` installs them
# all (.ci/packages check); this is for whoever runs one test alone.

# need TOOL...: a program, or "python:MODULE" for a module that /usr/bin/python3 must have.
need() {
	for tool in "$@"; do
		case $tool in
		python:*) /usr/bin/python3 -c "import ${tool#python:}" 2>/dev/null && continue ;;
		*) command -v "$tool" >/dev/null 2>&1 && continue ;;
		esac
		case $tool in
		python:numpy | python:scipy) package=python3-${tool#python:} ;;
		/usr/bin/python3) package=python3 ;;
		pdf*) package=poppler-utils ;;
		zbarimg) package=zbar-tools ;;
		libreoffice) package=libreoffice-calc-nogui ;;
		xgettext | msgfmt) package=gettext ;;
		gs) package=ghostscript ;;
		col) package=bsdextrautils ;;
		setpriv | flock) package=util-linux ;;
		readelf | objdump) package=binutils ;;
		*) package=$tool ;;
		esac
		echo "not ok - ${0##*/} needs $tool, which the Debian package $package brings"
		exit 1
	done
}
