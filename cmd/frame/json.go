package frame

import (
	"bytes"
	"encoding"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"

	"strandwise/cmd/document"
)

// Answer prints an answer as JSON of that schema where a program asks, else as its document.
func (a *App) Answer(schema int, answer interface{ Document() document.Document }) error {
	if a.Flags.JSON {
		return a.AnswerJSON(schema, answer)
	}
	return a.Show(answer.Document())
}

// AnswerJSON prints body, a struct or a map, on one line with the schema's number in front.
// Lists that are nil come out as [], never as null. Keys are to be in snake_case.
func (a *App) AnswerJSON(schema int, body any) error {
	var buffer bytes.Buffer
	e := json.NewEncoder(&buffer)
	e.SetEscapeHTML(false)
	if err := e.Encode(withLists(reflect.ValueOf(body)).Interface()); err != nil {
		return err
	}
	text := bytes.TrimSpace(buffer.Bytes())
	if len(text) < 2 || text[0] != '{' {
		panic("the body of a JSON answer is no object")
	}
	comma := ","
	if text[1] == '}' {
		comma = ""
	}
	_, err := fmt.Fprintf(a.Out, "{\"schema\":%d%s%s\n", schema, comma, text[1:])
	return err
}

// ownJSON are the types that know how to write themselves.
var ownJSON = []reflect.Type{
	reflect.TypeFor[json.Marshaler](),
	reflect.TypeFor[encoding.TextMarshaler](),
}

// withLists is a copy in which no list is nil, as far as fields, lists and pointers lead.
func withLists(v reflect.Value) reflect.Value {
	if slices.ContainsFunc(ownJSON, v.Type().Implements) {
		return v
	}
	body := reflect.New(v.Type()).Elem()
	body.Set(v)
	switch v.Kind() {
	case reflect.Slice:
		body.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		for i := range v.Len() {
			body.Index(i).Set(withLists(v.Index(i)))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if field := body.Field(i); field.CanSet() {
				field.Set(withLists(v.Field(i)))
			}
		}
	case reflect.Pointer:
		if !v.IsNil() {
			body.Set(reflect.New(v.Type().Elem()))
			body.Elem().Set(withLists(v.Elem()))
		}
	}
	return body
}
