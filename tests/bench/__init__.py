"""Benchmarks: `python -m tests.bench` runs every module named `bench_*` in this folder."""
