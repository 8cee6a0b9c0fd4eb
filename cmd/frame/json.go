package frame

import (
	"bytes"
	"encoding"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
)

// AnswerJSON prints body, a struct or a map, as the whole answer of a command;
// see writeJSON.
func (a *App) AnswerJSON(schema int, body any) error { return writeJSON(a.Out, schema, body) }

// writeJSON writes one document on one line: body with the schema's number in
// front. Lists that are nil come out as [], never as null; times, as time.Time
// writes itself, by RFC 3339. Keys are to be in snake_case.
func writeJSON(w io.Writer, schema int, body any) error {
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
	_, err := fmt.Fprintf(w, "{\"schema\":%d%s%s\n", schema, comma, text[1:])
	return err
}

// ownJSON are the types that know how to write themselves.
var ownJSON = []reflect.Type{
	reflect.TypeFor[json.Marshaler](),
	reflect.TypeFor[encoding.TextMarshaler](),
}

// withLists returns a copy of v in which no list is nil.
func withLists(v reflect.Value) reflect.Value {
	if !v.IsValid() {
		return v
	}
	for _, t := range ownJSON {
		if v.Type().Implements(t) {
			return v
		}
	}
	switch v.Kind() {
	case reflect.Slice:
		return sliceWithLists(v)
	case reflect.Struct:
		return structWithLists(v)
	case reflect.Map:
		return mapWithLists(v)
	case reflect.Pointer, reflect.Interface:
		return targetWithLists(v)
	}
	return v
}

func sliceWithLists(v reflect.Value) reflect.Value {
	list := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
	for i := range v.Len() {
		list.Index(i).Set(withLists(v.Index(i)))
	}
	return list
}

func structWithLists(v reflect.Value) reflect.Value {
	body := reflect.New(v.Type()).Elem()
	body.Set(v)
	for i := range v.NumField() {
		if field := body.Field(i); field.CanSet() {
			field.Set(withLists(v.Field(i)))
		}
	}
	return body
}

func mapWithLists(v reflect.Value) reflect.Value {
	body := reflect.MakeMapWithSize(v.Type(), v.Len())
	for _, key := range v.MapKeys() {
		body.SetMapIndex(key, withLists(v.MapIndex(key)))
	}
	return body
}

func targetWithLists(v reflect.Value) reflect.Value {
	if v.IsNil() {
		return v
	}
	target := reflect.New(v.Type()).Elem()
	inner := withLists(v.Elem())
	if v.Kind() == reflect.Interface {
		target.Set(inner)
		return target
	}
	target.Set(reflect.New(v.Type().Elem()))
	target.Elem().Set(inner)
	return target
}
