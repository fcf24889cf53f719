#!/bin/sh
# Runs one part of the house: web, worker, beat, or any manage.py command.
set -eu
cd "$(dirname "$0")/.."
python="${PYTHON:-python3}"

for name in DATABASE_URL REDIS_URL; do
    eval "value=\${$name:-}\${${name}_FILE:-}"
    if [ -z "$value" ]; then
        echo "$name is not set: docker/env.example explains it." >&2
        exit 2
    fi
done

case "${1:-web}" in
web)
    "$python" manage.py prepare
    "$python" manage.py collectstatic --no-input --verbosity 0
    exec "$python" -m gunicorn shop.wsgi --bind "${KITWRIGHT_BIND:-0.0.0.0:8000}" \
        --workers "${KITWRIGHT_WEB_PROCESSES:-2}" --threads 4 --worker-class gthread --no-control-socket \
        --limit-request-line 8190
    ;;
worker)
    exec "$python" -m celery -A shop.celery worker \
        --concurrency "${KITWRIGHT_WORKER_PROCESSES:-2}" --loglevel WARNING
    ;;
beat)
    exec "$python" -m celery -A shop.celery beat --pidfile "" \
        --schedule "${KITWRIGHT_DATA:-/data}/beat-schedule" --loglevel WARNING
    ;;
*)
    exec "$python" manage.py "$@"
    ;;
esac
