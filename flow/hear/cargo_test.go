package hear

import "testing"

// TestCargo: a load in the back is no person, however it is spelt and whose ever vehicle it is
// in, and a person beside it stays one.
func TestCargo(t *testing.T) {
	inside := func(text string) bool {
		for _, f := range Listen(text, TopicPeople).Facts {
			if f.Field == "hazards" && f.Value == "people-inside" {
				return true
			}
		}
		return false
	}
	for _, text := range []string{
		"600 kilos of potatos in the back, nobody hurt", "600 kilos of potatoes in the back", "half a ton of swedes on board", "another 400 kilos in the back",
		"hay bales in the back, nobody hurt", "its got turnips in the back", "hes got hay in the back", "dad put a pallet of slabs in the back",
		"my brothers 3.5t sprinter van with about 600 kilos of potatos in the back, nobody hurt", "my neighbours pickup with firewood in the back", "plasterbord and timber in the back, no one hurt",
		"theres a washing machine in the van", "crates of beer inside", "some scrap iron aboard", "tiles and cemment in the back", "she has 300 kg of sugarbeet in there", "ive 20 bags of coal in the back",
		"his dads truck with gravel in the back, everyone is out", "a fridge and a sofa in the van", "nobody hurt, hes got some potatos in the back",
	} {
		if inside(text) {
			t.Errorf("%q is a person inside", text)
		}
	}
	for _, text := range []string{
		"my lad in the back", "my lad is in the back with the potatoes", "gerd is in the back with the potatoes", "anna and the hay bales in the back", "lad with 600 kilos of potatoes in the back",
		"my brothers in the van with the hay", "dad is in the back with the pallet", "an 80 kilo bloke in the back", "in the back", "my brothers van with hay and my sister in the back",
		"mums in there with the shopping", "600 kilos of potatoes and my nephew in the back", "barkley in the back", "the cyclist is in the van with his bike", "dad put my sister in the back with the hay",
		"driver got in the back with the bales",
	} {
		if !inside(text) {
			t.Errorf("%q is nobody inside", text)
		}
	}
}

// TestSumOfTheLoad: what is added behind a sum is no part of it.
func TestSumOfTheLoad(t *testing.T) {
	for text, want := range map[string]string{
		"6.1 tonnes then, empty off the papers plus counted sacks 80 x 25kg": "6.1 tonnes", "6.1 t including 2 t of sacks": "6.1 t", "4.1 t empty and 2 t of sacks on it": "4.1 t + 2 t",
		"its 6.1 t of which 2 t are sacks": "",
	} {
		got := ""
		for _, f := range Listen(text, TopicMass).Facts {
			if f.Field == "load.mass" {
				got = f.Value
			}
		}
		if got != want && !(want == "" && got == "6.1 t") {
			t.Errorf("%q weighs %q, want %q", text, got, want)
		}
	}
}
