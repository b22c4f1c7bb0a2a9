"""Which studies the constants of `kb.mixture.trials.yieldloss` came from.

Spreads, fitted rows and the counts said in words were reckoned on the 90 studies of one table of
outcomes (`computation-notes` 2). A test on any of them flatters; `traitbed outcomes` therefore counts
once without them. The table itself is not shipped: each study is kept as the first 12 digits of the
SHA-256 of its key (its DOI in lower case, or its key in the compilation).
"""

import hashlib

PREFIXES = ("https://doi.org/", "http://doi.org/", "doi:")

_STUDIES = frozenset(
    """
    016497d09bfc 02294824f939 026ce2118ff8 0397599c3fc9 0b235efdb23c 0b88a92a620b
    0f2250beeab5 0f620cf099fb 151b51abbea2 16f630639753 17ec4d8afbe7 192403cc4627
    1c3864d76daa 1f3de0b18e3e 24e2ffd3219a 2985d5c86e13 2a486b0b5e8f 2a9bbe3296c3
    351d46feb42c 3872e8f788af 3b8a86282ed2 3eb46da0dc6b 40563e368cb2 422c998becf5
    429ff689597b 45a4504868fb 49084e1aeddc 49e3fe287f48 4a3b2f87ba8a 4adfd72cf2ae
    4d0746180f8a 52ce884d1a4b 52e720ebd9d8 55fff8f28c51 566270ac975a 582b16770847
    58cc6f23e912 6a415f291fcd 6d095d7687a7 70f2a54aceb5 711a638df143 71e816220c1b
    7344fb14ba23 75cbba2b2f22 7753bacc22dc 783b23d0b84f 79a20f3c4815 7a02141c38bb
    7f26e27ffdca 89e5f830eca6 8a7e7dd996a2 8e8b5ab31619 8f2c59fc8618 8fd1a3c8b474
    912e8a39f100 94e34549e476 995f3f3fbf77 9bf0b6ac25b3 9bf790a342a7 9c413d8ebea5
    9f9a0abad326 a50d32613089 a669ea9b1a18 a96c4531d81f ab5f944d8bbb ae3ca4c05d4a
    b6d3a1990e3e bf34ff385b9e bf9902c86cfe c5f6510e429c c9f4671338d6 cc00bd6e570e
    cc117da91c2a cdd24f191854 ce53f70909d9 d138e01b275d d9bd42e9f461 dcd35b24e47c
    dfce9249d324 e1045301794d e8c7e777b147 ec53250ab32e ef0aaf9ec134 f1d7673c4bbc
    f34dc98102a6 f61167b205ae f81dd504c0e4 fe9864a32113 ff2b20910d96 ffe50dedfdd8
    """.split()  # noqa: SIM905 - ninety quoted strings would be harder to compare
)
COUNT = len(_STUDIES)


def gave_constants(study: str, doi: str = "") -> bool:
    """Whether a study, by its key or its DOI, is one that the constants came from."""
    return any(_hashed(name) in _STUDIES for name in (study, doi) if name.strip())


def _hashed(name: str) -> str:
    key = name.strip().lower()
    for prefix in PREFIXES:
        key = key.removeprefix(prefix)
    return hashlib.sha256(key.encode()).hexdigest()[:12]
