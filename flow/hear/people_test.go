package hear

import (
	"slices"
	"strings"
	"testing"
)

func TestPeople(t *testing.T) {
	me := func(name string) Person { return Person{name, true} }
	who := func(name string) Person { return Person{Name: name} }
	for _, c := range []struct {
		text string
		want []Person
	}{
		{"Ada, Bo, Cy", []Person{who("Ada"), who("Bo"), who("Cy")}},
		{"Jo thats me, Pete on the tractor, Anna, old Bert", []Person{me("Jo"), who("Pete"), who("Anna"), who("old Bert")}},
		{"jo (me), pete: driver & anna", []Person{me("jo"), who("pete"), who("anna")}},
		{"I'm Jo, then Pete drives, Anna at the rope and Bert", []Person{me("Jo"), who("Pete"), who("Anna"), who("Bert")}},
		{"names are Jo, Pete", []Person{who("Jo"), who("Pete")}},
		{"me, Anna", []Person{me(""), who("Anna")}},
		{"Mary Ann Lee, Ole-Jan", []Person{who("Mary Ann Lee"), who("Ole-Jan")}},
		{"Zoë\nJürgen", []Person{who("Zoë"), who("Jürgen")}},
		{"my name is Jo", []Person{me("Jo")}},
		{"we r 3 here: ida, tom on the tractor and jo. eve is far away", []Person{who("ida"), who("tom"), who("jo")}},
		{"Anna K. Lund, Bo. Cy", []Person{who("Anna K. Lund"), who("Bo"), who("Cy")}},
		{"Jo, Pete isn't here, Anna", []Person{who("Jo"), who("Anna")}},
		{"no its got a rops frame, pete just looked", []Person{who("pete")}},
		{"tom thats me, gerd he's the old hand, anna", []Person{me("tom"), who("gerd"), who("anna")}},
		{"Tom, then Gerd he is the oldest, Anna, Pete who drives", []Person{who("Tom"), who("Gerd"), who("Anna"), who("Pete")}},
		{"tom, gerd he's gone home, anna shes not well", []Person{who("tom")}},
		{"im Pia, Greet is the most experienced, Tom, Ans. and the dog Bo haha", []Person{me("Pia"), who("Greet"), who("Tom"), who("Ans")}},
		{"Pia, Tom and Bo the dog", []Person{who("Pia"), who("Tom")}},
		{"Pia, Tom, Bo is a dog, my cat", []Person{who("Pia"), who("Tom")}},
		{"Cat, Teddy, Tom who has the dog", []Person{who("Cat"), who("Teddy"), who("Tom")}},
		{"Pia, Tom holds the dog", []Person{who("Pia"), who("Tom")}},
		{"Pia, Tom is the dog handler, the cat", []Person{who("Pia"), who("Tom")}},
		{"im dunya, then rosa, piet, old tom. only me with a phone", []Person{me("dunya"), who("rosa"), who("piet"), who("old tom"), me("")}},
		{"remove dog Bo", nil},
		{"no", nil},
		{"4", nil},
		{"?", nil},
		{"", nil},
	} {
		if got := People(c.text); !slices.Equal(got, c.want) {
			t.Errorf("%q: got %v, want %v", c.text, got, c.want)
		}
	}
}

func TestOneName(t *testing.T) {
	for text, want := range map[string]string{
		"Jo": "Jo", "anna k.": "anna k", "Mary Ann Lee": "Mary Ann Lee", "Bert saw it": "Bert", "it's Pete": "Pete", "Jo says ok": "Jo", "Tom agrees": "Tom", "Pete, the driver": "Pete", "Cy Holm, coordinator": "Cy Holm", "Pete, he looked at it twice": "",
		"no its got a rops frame, pete just looked": "", "no": "", "dog Bo haha": "", "remove Bo": "", "nobody": "", "why?": "", "the tractor has a frame": "", "Jo and Anna": "",
		"i dont think that is needed": "", "cos we need it out": "", "12": "",
	} {
		got, ok := OneName(text)
		if got != want || ok != (want != "") {
			t.Errorf("%q: got %q, %v, want %q", text, got, ok, want)
		}
	}
}

// TestWhatIsSaidOfSomebodyIsNoName: who goes on about somebody lists nobody.
func TestWhatIsSaidOfSomebodyIsNoName(t *testing.T) {
	for _, text := range []string{"ben hes done", "Ben he's finished now", "sal shes gone to the van"} {
		if got := People(text); len(got) != 0 {
			t.Errorf("%q names %v", text, got)
		}
	}
	if got := People("ben, sal"); len(got) != 2 {
		t.Errorf("ben, sal are %v", got)
	}
}

// TestWhatANameBearerDid: what is said of somebody behind their name is no part of it.
func TestWhatANameBearerDid(t *testing.T) {
	for text, want := range map[string]string{
		"me Ilka, Bo drove wreckers for years, then Mats and Dorin": "Ilka|Bo|Mats|Dorin",
		"Ana de la Cruz, Jan van der Berg and Ada holm":             "Ana de la|Jan van der|Ada holm",
		"ada lund, bo": "ada lund|bo",
	} {
		var got []string
		for _, p := range People(text) {
			got = append(got, p.Name)
		}
		if strings.Join(got, "|") != want {
			t.Errorf("%q names %q, want %q", text, got, want)
		}
	}
}
