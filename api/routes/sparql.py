"""SPARQL 1.1 protocol, read only: GET ?query=, POST as a form or as application/sparql-query."""

from typing import cast

from flask import Blueprint, Response, current_app, request
from rdflib import RDF, Graph, Namespace, URIRef
from werkzeug.datastructures import MIMEAccept

from api.problems import NotAcceptable, UnsupportedBody
from api.routes.flow import SHARED, sent, timed
from kb.errors import BadParameter, ParameterFault
from kb.sparql.endpoint import Endpoint

blueprint = Blueprint("sparql", __name__)

SD = Namespace("http://www.w3.org/ns/sparql-service-description#")
FORMATS = Namespace("http://www.w3.org/ns/formats/")
MEDIA_TYPES = {
    "json": "application/sparql-results+json",
    "turtle": "text/turtle",
    "xml": "application/sparql-results+xml",
    "csv": "text/csv",
    "tsv": "text/tab-separated-values",
    "ntriples": "application/n-triples",
}
"""Form -> media type, in the order of preference where a client takes anything."""
QUERY_TYPES = ("application/sparql-query", "application/x-www-form-urlencoded")


def _endpoint() -> Endpoint:
    return cast("Endpoint", current_app.extensions[SHARED]["sparql"])


@blueprint.get("/sparql")
def ask() -> Response:
    """Answer ?query=; without one, say what the endpoint is."""
    if not request.args:
        return _described()
    return _answered(_only_query(list(request.args.items(multi=True))))


@blueprint.post("/sparql")
def ask_by_body() -> Response:
    if request.mimetype == QUERY_TYPES[1]:
        items = [*request.args.items(multi=True), *request.form.items(multi=True)]
        return _answered(_only_query(items))
    if request.mimetype != QUERY_TYPES[0]:
        raise UnsupportedBody(QUERY_TYPES)
    if request.args:
        _only_query([*request.args.items(multi=True), ("query", "")])
        raise _bad("query", "is in the address and in the body; send it once.")
    try:
        return _answered(request.get_data().decode())
    except UnicodeDecodeError:
        raise _bad("query", "is not UTF-8; send it as UTF-8.") from None


def _bad(name: str, detail: str) -> BadParameter:
    return BadParameter((ParameterFault(name, detail),))


def _only_query(items: list[tuple[str, str]]) -> str:
    """The query of a request that holds nothing else, once."""
    for name, _ in items:
        if name == "update":
            raise _bad(name, "is not taken: the data can only be read here.")
        if name != "query":
            raise _bad(name[:60], "is not taken here; there is one data set, and one parameter: query.")
    if len(items) != 1:
        raise _bad("query", "is missing; send one." if not items else "is given more than once; send one.")
    return items[0][1]


def _answered(query: str) -> Response:
    forms = _forms(request.accept_mimetypes)
    with timed("sparql"):
        answer = _endpoint().ask(query, forms)
    media_type = MEDIA_TYPES[answer.form]
    response = sent(answer.body, "json")
    response.content_type = f"{media_type}; charset=utf-8" if media_type.startswith("text/") else media_type
    response.headers["Cache-Control"] = "no-cache"
    return response


def _forms(accept: MIMEAccept) -> list[str]:
    """The forms that the client takes, best first. Raises NotAcceptable."""
    if not accept:
        return list(MEDIA_TYPES)
    quality = {form: accept.quality(media_type) for form, media_type in MEDIA_TYPES.items()}
    quality["json"] = max(quality["json"], accept.quality("application/json"))
    if not any(quality.values()):
        raise NotAcceptable(tuple(MEDIA_TYPES))
    taken = [form for form in MEDIA_TYPES if quality[form] > 0]
    return sorted(taken, key=lambda form: -quality[form])


def _described() -> Response:
    """What the endpoint is (SPARQL 1.1 Service Description), as Turtle."""
    graph = Graph(bind_namespaces="none")
    graph.bind("sd", SD)
    service = URIRef(request.base_url)
    for predicate, node in (
        (RDF.type, SD.Service),
        (SD.endpoint, service),
        (SD.supportedLanguage, SD.SPARQL11Query),
        *((SD.resultFormat, FORMATS[name]) for name in _RESULT_FORMATS),
    ):
        graph.add((service, predicate, node))
    response = sent(graph.serialize(format="turtle").encode(), "json")
    response.content_type = "text/turtle; charset=utf-8"
    response.headers["Cache-Control"] = "no-cache"
    return response


_RESULT_FORMATS = (
    "SPARQL_Results_JSON",
    "SPARQL_Results_XML",
    "SPARQL_Results_CSV",
    "SPARQL_Results_TSV",
    "Turtle",
    "N-Triples",
)
"""As W3C names them in http://www.w3.org/ns/formats/."""
