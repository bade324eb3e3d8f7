## Needs the review of a native speaker.

door-language = Idioma
door-review = Esta traducción todavía no la ha revisado un hablante nativo.
door-leaking = ¿Agua en el piso? ¿Huele a gas? Qué hacer ahora
door-something-wrong = Algo anda mal con mi calentador
door-decide = ¿Reemplazarlo o esperar?
door-buy = Comprar el próximo
door-flush = El lavado y el ánodo, explicados
door-offer = Comprar juntos: su oferta
door-record = Mi registro
door-answer = Contestar, o corregir una respuesta
door-answer-new = Cuéntenos de su calentador: tres minutos
door-my-heater = Mi calentador
door-my-heater-title = Mi calentador
door-code-help = Su carta trae un código privado. Abre su casa y ninguna otra.
door-code = Código privado
door-code-open = Abrir mi casa
door-no-letter = ¿No tiene carta? Cuéntenos de su calentador sin código
door-open-first = Primero abra su casa con el código privado de su carta.
door-more = Más
door-first = Antes que nada

nav-start = Inicio
nav-resident = Residente
nav-answer = Cuéntenos de su calentador
nav-my-heater = Mi calentador
nav-decide = Reemplazar o esperar
nav-wrong = Algo anda mal
nav-leaking = Hay una fuga ahora
nav-buy = Comprar el próximo
nav-flush = Lavado y ánodo
nav-offer = Comprar juntos
nav-privacy = Quién ve qué
nav-record = Mi registro

head-synthetic = Demostración sintética.
head-synthetic-help = Esta comunidad es inventada: ninguna casa, persona ni calentador es real.
head-open-doors = Sus puertas están abiertas: cualquiera puede probar cada página.
head-fresh = datos del { $day } · { $answered } de { $homes } casas han contestado
head-no-homes = todavía no hay casas
head-signed-in = Sesión abierta: { $name }
head-sign-out = Salir
