"""Our own tests: named here, so that no installed package of the same name is taken for them."""
