"""A scope and filters to a table. Every number was counted by the models; nothing is counted here.

Each function is cached on the build, the reader and its filters: a new build asks anew.
"""
